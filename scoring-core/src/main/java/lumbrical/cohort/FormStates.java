package lumbrical.cohort;

import java.util.List;
import java.util.Map;
import java.util.Set;
import java.util.TreeMap;
import java.util.stream.IntStream;
import lumbrical.followup.EpisodeFollowUp;
import lumbrical.followup.ExpectedForm;
import lumbrical.instrument.InstrumentId;

/** How the forms of every episode stand, by instrument and visit. */
final class FormStates {
    /** How a form stands. */
    enum State {
        NOT_ASKED,
        NOT_YET,
        CLOSED,
        EXPECTED,
        RECEIVED
    }

    private static final State[] STATES = State.values();

    private final Visits visits;
    private final int episodes;
    /** By position of the visit times the number of episodes, plus position of the episode. */
    private final Map<InstrumentId, byte[]> states = new TreeMap<>();

    FormStates(int episodes, Visits visits) {
        this.visits = visits;
        this.episodes = episodes;
    }

    /** Takes the forms of an episode. */
    void add(int position, EpisodeFollowUp episode) {
        if (episode.episode().indexDate().isEmpty()) {
            return;
        }
        List<InstrumentId> throughout = episode.askedThroughout();
        for (int v = 0; v < visits.size(); v++) {
            for (InstrumentId instrument : visits.get(v).formsOr(throughout)) {
                set(instrument, v, position, State.CLOSED); // unless it is among the expected
            }
        }
        for (ExpectedForm form : episode.expected()) {
            set(form.instrument(), visits.indexOf(form.visit()), position, stateOf(form));
        }
    }

    private static State stateOf(ExpectedForm form) {
        if (form.received()) {
            return State.RECEIVED;
        }
        return form.state() == ExpectedForm.State.NOT_YET ? State.NOT_YET : State.EXPECTED;
    }

    private void set(InstrumentId instrument, int visit, int episode, State state) {
        states.computeIfAbsent(instrument, k -> new byte[visits.size() * episodes])[visit * episodes + episode] =
                (byte) state.ordinal();
    }

    /** Whether a form of the instrument is asked of any of these episodes at any visit. */
    boolean asked(InstrumentId instrument, int[] of) {
        return states.containsKey(instrument)
                && IntStream.range(0, visits.size())
                        .anyMatch(v -> IntStream.of(of).anyMatch(e -> at(instrument, v, e) != State.NOT_ASKED));
    }

    /** The instruments of which a form is asked for. */
    Set<InstrumentId> instruments() {
        return states.keySet();
    }

    State at(InstrumentId instrument, int visit, int episode) {
        byte[] own = states.get(instrument);
        return own == null ? State.NOT_ASKED : STATES[own[visit * episodes + episode]];
    }
}
