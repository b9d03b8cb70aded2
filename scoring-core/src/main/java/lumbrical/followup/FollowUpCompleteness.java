package lumbrical.followup;

import java.time.LocalDate;
import java.time.temporal.ChronoUnit;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.EnumMap;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.TreeMap;
import lumbrical.instrument.Composition;
import lumbrical.instrument.InstrumentId;
import lumbrical.instrument.Item;
import lumbrical.instrument.Scale;
import lumbrical.problem.Problem;
import lumbrical.problem.ProblemCode;
import lumbrical.scoring.Reason;
import lumbrical.scoring.ScoreResult;
import lumbrical.sitting.ScoredForm;

/** Sets forms expected against forms received. */
final class FollowUpCompleteness {
    private final Schedule schedule;
    private final LocalDate asOf;
    private final Map<Episode, List<AssignedForm>> formsOf;
    private final List<Problem> notes = new ArrayList<>();

    FollowUpCompleteness(Schedule schedule, LocalDate asOf, Map<Episode, List<AssignedForm>> formsOf) {
        this.schedule = schedule;
        this.asOf = asOf;
        this.formsOf = formsOf;
    }

    List<Problem> notes() {
        return notes;
    }

    /** The forms of the schedule's visit, else of the episode, else what its baseline had. */
    private List<InstrumentId> expected(Episode episode, Visit visit) {
        if (!visit.forms().isEmpty()) {
            return visit.forms();
        }
        if (!episode.forms().isEmpty()) {
            return episode.forms();
        }
        return forms(episode).stream()
                .filter(f -> f.placement()
                        .orElseThrow()
                        .visit()
                        .filter(v -> v.role() == Visit.Role.BASELINE)
                        .isPresent())
                .map(f -> f.form().instrument().id())
                .distinct()
                .sorted()
                .toList();
    }

    private List<AssignedForm> forms(Episode episode) {
        return formsOf.getOrDefault(episode, List.of());
    }

    private Optional<ScoredForm> received(Episode episode, Visit visit, InstrumentId instrument) {
        List<ScoredForm> received = forms(episode).stream()
                .filter(f -> f.placement().orElseThrow().visit().equals(Optional.of(visit)))
                .map(AssignedForm::form)
                .filter(f -> f.instrument().id().equals(instrument))
                .toList();
        return received.stream()
                .filter(f -> unscored(f, episode).isEmpty())
                .findFirst()
                .or(() -> received.stream().findFirst());
    }

    /** Results of scales that a person may not leave out, of the treated hand or the person, without a score. */
    private static List<ScoreResult> unscored(ScoredForm form, Episode episode) {
        return form.results().stream()
                .filter(r -> r.hand().isEmpty() || r.hand().get() == episode.treatedSide())
                .filter(r -> !form.instrument().scale(r.scale()).orElseThrow().optional())
                .filter(r -> r.scored().isEmpty())
                .toList();
    }

    /** Every expected form of every episode with an index date; none once an episode is closed, unless it came. */
    List<ExpectedForm> due(List<Episode> episodes) {
        List<ExpectedForm> due = new ArrayList<>();
        for (Episode episode : episodes) {
            if (episode.indexDate().isEmpty()) {
                continue;
            }
            boolean known = false;
            for (Visit visit : schedule.visits()) {
                for (InstrumentId instrument : expected(episode, visit)) {
                    known = true;
                    dueForm(episode, episode.indexDate().get(), visit, instrument)
                            .ifPresent(due::add);
                }
            }
            if (!known) {
                notes.add(new Problem(
                        episode.place(),
                        "",
                        ProblemCode.NOTE_EXPECTED_FORMS_UNKNOWN,
                        "Patient " + episode.patient() + ", episode " + episode.id()
                                + ": expected forms unknown. Fill in forms of the episode or of the schedule."));
            }
        }
        return due;
    }

    private Optional<ExpectedForm> dueForm(Episode episode, LocalDate index, Visit visit, InstrumentId instrument) {
        LocalDate opens = index.plusDays(visit.fromDay());
        LocalDate target = index.plusDays(visit.targetDay());
        LocalDate closes = index.plusDays(visit.toDay());
        Optional<ScoredForm> form = received(episode, visit, instrument);
        Optional<ExpectedForm.State> state = form.isPresent()
                ? Optional.of(
                        unscored(form.get(), episode).isEmpty()
                                ? ExpectedForm.State.RECEIVED
                                : ExpectedForm.State.RECEIVED_NOT_SCORABLE)
                : openState(episode, opens, target, closes);
        List<Item> blank = state.equals(Optional.of(ExpectedForm.State.RECEIVED_NOT_SCORABLE))
                ? blankItems(form.orElseThrow(), episode)
                : List.of();
        return state.map(s -> new ExpectedForm(
                episode, visit, instrument, opens, target, closes, s, ChronoUnit.DAYS.between(asOf, closes), blank));
    }

    private Optional<ExpectedForm.State> openState(
            Episode episode, LocalDate opens, LocalDate target, LocalDate closes) {
        Optional<LocalDate> closedOn = episode.closure().map(Episode.Closure::on);
        boolean nothingMoreDue = closedOn.isPresent()
                && !closedOn.get().isAfter(asOf)
                && closedOn.get().isBefore(closes);
        if (nothingMoreDue) {
            return Optional.empty();
        } else if (asOf.isBefore(opens)) {
            return Optional.of(ExpectedForm.State.NOT_YET);
        } else if (!asOf.isAfter(target)) {
            return Optional.of(ExpectedForm.State.DUE);
        }
        return Optional.of(asOf.isAfter(closes) ? ExpectedForm.State.MISSED : ExpectedForm.State.OVERDUE);
    }

    private static List<Item> blankItems(ScoredForm form, Episode episode) {
        List<Item> blank = new ArrayList<>();
        for (ScoreResult result : unscored(form, episode)) {
            Scale scale = form.instrument().scale(result.scale()).orElseThrow();
            if (!(scale.composition() instanceof Composition.FromItems made)) {
                continue;
            }
            form.instrument().columns().stream()
                    .filter(c -> made.items().stream().anyMatch(i -> i.item() == c.item()))
                    .filter(c -> c.hand().isEmpty() || c.hand().get() == episode.treatedSide())
                    .filter(c -> !form.responses().entered(c.index()))
                    .map(c -> c.item())
                    .filter(item -> !blank.contains(item))
                    .forEach(blank::add);
        }
        return blank;
    }

    /** Expected against received by visit and instrument. */
    List<VisitCount> counts(List<Episode> episodes) {
        Map<Visit, Map<InstrumentId, Tally>> tallies = new LinkedHashMap<>();
        schedule.visits().forEach(v -> tallies.put(v, new TreeMap<>()));
        for (Episode episode : episodes) {
            if (episode.indexDate().isEmpty()) {
                continue;
            }
            for (Visit visit : schedule.visits()) {
                for (InstrumentId instrument : expected(episode, visit)) {
                    count(episode, visit, instrument, tallies.get(visit).computeIfAbsent(instrument, i -> new Tally()));
                }
            }
            countOutside(episode, tallies);
        }
        List<VisitCount> counts = new ArrayList<>();
        tallies.forEach((visit, byInstrument) ->
                byInstrument.forEach((instrument, tally) -> counts.add(tally.toCount(visit, instrument))));
        return counts;
    }

    private void count(Episode episode, Visit visit, InstrumentId instrument, Tally tally) {
        LocalDate index = episode.indexDate().orElseThrow();
        Optional<ScoredForm> form = received(episode, visit, instrument);
        boolean closed = episode.closure()
                .filter(c -> !c.on().isAfter(asOf) && c.on().isBefore(index.plusDays(visit.targetDay())))
                .isPresent();
        if (form.isEmpty() && closed) {
            tally.closed++;
        } else if (form.isEmpty() && asOf.isBefore(index.plusDays(visit.fromDay()))) {
            tally.notYet++;
        } else {
            tally.expected++;
            form.ifPresent(f -> tally.receive(unscored(f, episode)));
        }
    }

    private void countOutside(Episode episode, Map<Visit, Map<InstrumentId, Tally>> tallies) {
        for (AssignedForm form : forms(episode)) {
            if (form.placement().orElseThrow().day().isPresent()
                    && form.placement().orElseThrow().visit().isEmpty()) {
                int day = form.placement().orElseThrow().day().getAsInt();
                Visit nearest = schedule.visits().stream()
                        .min(Comparator.comparingInt(v -> Math.abs(v.targetDay() - day)))
                        .orElseThrow();
                tallies.get(nearest).computeIfAbsent(form.form().instrument().id(), i -> new Tally()).outside++;
            }
        }
    }

    private static final class Tally {
        private int expected;
        private int closed;
        private int notYet;
        private int received;
        private int scorable;
        private int outside;
        private final Map<Reason, Integer> notScorable = new EnumMap<>(Reason.class);

        void receive(List<ScoreResult> unscored) {
            received++;
            if (unscored.isEmpty()) {
                scorable++;
            } else {
                notScorable.merge(unscored.get(0).reason().orElseThrow(), 1, Integer::sum);
            }
        }

        VisitCount toCount(Visit visit, InstrumentId instrument) {
            return new VisitCount(
                    visit, instrument, expected, closed, notYet, received, scorable, notScorable, outside);
        }
    }
}
