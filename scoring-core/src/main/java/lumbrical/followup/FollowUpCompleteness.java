package lumbrical.followup;

import java.time.LocalDate;
import java.time.LocalTime;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.EnumMap;
import java.util.List;
import java.util.Map;
import java.util.Objects;
import java.util.Optional;
import java.util.TreeMap;
import java.util.stream.IntStream;
import lumbrical.instrument.Column;
import lumbrical.instrument.Instrument;
import lumbrical.instrument.InstrumentId;
import lumbrical.instrument.Item;
import lumbrical.instrument.Scale;
import lumbrical.problem.Place;
import lumbrical.problem.Problem;
import lumbrical.problem.ProblemCode;
import lumbrical.problem.Remedy;
import lumbrical.scoring.Reason;
import lumbrical.scoring.ScoreResult;
import lumbrical.sitting.ScoredForm;

/** Sets forms expected against forms received. */
final class FollowUpCompleteness {
    private static final Comparator<AssignedForm> BY_TIME = Comparator.comparing(
                    (AssignedForm f) -> f.form().sitting().completedOn())
            .thenComparing(f -> f.form().sitting().time().orElse(LocalTime.MIN));

    private final Schedule schedule;
    private final LocalDate asOf;
    /** By position of the visit. */
    private final List<Map<InstrumentId, Counter>> counters = new ArrayList<>();

    private final List<Problem> notes = new ArrayList<>();
    /** By position of the visit: episodes that could have been seen, and those of them with nothing in the window. */
    private final int[] couldBeSeen;

    private final int[] notSeen;
    private final List<Episode> formsNotKnown = new ArrayList<>();

    FollowUpCompleteness(Schedule schedule, LocalDate asOf) {
        this.schedule = schedule;
        this.asOf = asOf;
        schedule.visits().forEach(v -> counters.add(new TreeMap<>()));
        couldBeSeen = new int[schedule.visits().size()];
        notSeen = new int[schedule.visits().size()];
    }

    /** An episode with its expected forms. */
    EpisodeFollowUp complete(EpisodeFollowUp followUp) {
        List<ExpectedForm> expected = new ArrayList<>();
        Episode episode = followUp.episode();
        episode.indexDate().ifPresent(index -> {
            List<Came> received = followUp.received()
                    .sorted(BY_TIME) // so that the order of the input decides nothing
                    .map(form -> Came.of(form, episode))
                    .toList();
            List<Window> windows = schedule.visits().stream()
                    .map(visit -> Window.of(received, index, visit))
                    .toList();
            expected.addAll(expected(followUp, windows));
            countOutside(received);
            lookForEmptyVisits(episode, windows);
        });
        return new EpisodeFollowUp(
                episode,
                followUp.condition(),
                followUp.forms(),
                followUp.series(),
                followUp.grips(),
                new ExpectedForms(episode, asOf, expected));
    }

    /** Adds what was counted and noted of further episodes. */
    void add(FollowUpCompleteness further) {
        for (int v = 0; v < counters.size(); v++) {
            Map<InstrumentId, Counter> own = counters.get(v);
            further.counters.get(v).forEach((form, counter) -> own.computeIfAbsent(form, f -> new Counter())
                    .add(counter));
            couldBeSeen[v] += further.couldBeSeen[v];
            notSeen[v] += further.notSeen[v];
        }
        notes.addAll(further.notes);
        formsNotKnown.addAll(further.formsNotKnown);
    }

    /** Notes on all episodes, once they are complete. */
    List<Problem> notes() {
        noteFormsNotKnown();
        noteSchedule();
        return notes;
    }

    /**
     * A form that came: one with an answer, also one entered twice with different answers.
     *
     * @param unscored results without a score of scales that a person may not leave out, of the treated hand or the person
     * @param scorable whether it has the scores that it is expected for
     */
    private record Came(AssignedForm form, List<ScoreResult> unscored, boolean scorable) {
        static Came of(AssignedForm form, Episode episode) {
            Instrument instrument = form.form().instrument();
            List<ScoreResult> unscored = new ArrayList<>(0);
            boolean required = false;
            for (ScoreResult result : form.form().results()) {
                if (FollowUpAnalysis.ofTreatedHand(result.hand(), episode)
                        && !instrument.requireScale(result.scale()).optional()) {
                    required = true;
                    if (result.scored().isEmpty()) {
                        unscored.add(result);
                    }
                }
            }
            return new Came(
                    form,
                    unscored,
                    !form.contradicted() && unscored.isEmpty() && (required || !requiresAny(instrument)));
        }

        private static boolean requiresAny(Instrument instrument) {
            return instrument.scales().stream().anyMatch(s -> s.reported() && !s.optional());
        }
    }

    /** The window of a visit in an episode, and the forms that came in it, by time. */
    private record Window(Visit visit, LocalDate opens, LocalDate target, LocalDate closes, List<Came> forms) {
        static Window of(List<Came> received, LocalDate index, Visit visit) {
            List<Came> forms = new ArrayList<>();
            for (Came came : received) {
                if (came.form().at().isAt(visit)) {
                    forms.add(came);
                }
            }
            return new Window(
                    visit,
                    index.plusDays(visit.fromDay()),
                    index.plusDays(visit.targetDay()),
                    index.plusDays(visit.toDay()),
                    forms);
        }

        /** Of the forms of an instrument the first that is scorable, else the first. */
        Optional<Came> best(InstrumentId instrument) {
            Optional<Came> first = Optional.empty();
            for (Came came : forms) {
                if (came.form().form().instrument().id().equals(instrument)) {
                    if (came.scorable()) {
                        return Optional.of(came);
                    }
                    first = first.or(() -> Optional.of(came));
                }
            }
            return first;
        }
    }

    private List<ExpectedForm> expected(EpisodeFollowUp followUp, List<Window> windows) {
        List<ExpectedForm> expected = new ArrayList<>();
        List<InstrumentId> throughout = followUp.askedThroughout();
        boolean known = false;
        for (int v = 0; v < counters.size(); v++) {
            Window window = windows.get(v);
            for (InstrumentId instrument : window.visit().formsOr(throughout)) {
                known = true;
                Counter counter = counters.get(v).computeIfAbsent(instrument, i -> new Counter());
                expectedForm(followUp.episode(), window, instrument, counter).ifPresent(expected::add);
            }
        }
        if (!known) {
            formsNotKnown.add(followUp.episode());
        }
        return expected;
    }

    private Optional<ExpectedForm> expectedForm(
            Episode episode, Window window, InstrumentId instrument, Counter counter) {
        Optional<Came> best = window.best(instrument);
        Optional<Episode.Closure> closure = episode.closureKnown(asOf);
        boolean closedBefore = closure.filter(c -> c.isBefore(window.opens())).isPresent();
        ExpectedForm.State state;
        if (best.isPresent()) {
            counter.receive(best.get());
            state = best.get().scorable() ? ExpectedForm.State.DONE : ExpectedForm.State.INCOMPLETE;
            if (closedBefore && closure.flatMap(Episode.Closure::day).isPresent()) {
                noteAfterClosing(best.get().form(), episode);
            }
        } else if (closedBefore) {
            counter.closed++;
            return Optional.empty();
        } else {
            state = stateOfOpen(closure, window.opens(), window.target(), window.closes());
            if (state == ExpectedForm.State.NOT_YET) {
                counter.notYet++;
            } else {
                counter.expected++;
            }
        }
        List<Item> blank = state == ExpectedForm.State.INCOMPLETE
                ? best.map(came -> blankItems(came, episode)).orElse(List.of())
                : List.of();
        return Optional.of(new ExpectedForm(episode, window.visit(), instrument, state, asOf, blank));
    }

    private void noteAfterClosing(AssignedForm form, Episode episode) {
        notes.add(new Problem(
                form.form().sitting().place(),
                "",
                ProblemCode.NOTE_FORM_AFTER_CLOSING,
                "Patient " + episode.patient() + ", episode " + episode.id() + " was closed before this visit; the "
                        + form.form().instrument().id() + " that came counts as expected and received."));
    }

    private ExpectedForm.State stateOfOpen(
            Optional<Episode.Closure> closure, LocalDate opens, LocalDate target, LocalDate closes) {
        if (closure.filter(c -> !c.isAfter(closes)).isPresent()) {
            return ExpectedForm.State.CLOSED;
        } else if (asOf.isBefore(opens)) {
            return ExpectedForm.State.NOT_YET;
        } else if (!asOf.isAfter(target)) {
            return ExpectedForm.State.OPEN;
        }
        return asOf.isAfter(closes) ? ExpectedForm.State.MISSED : ExpectedForm.State.LATE;
    }

    private static List<Item> blankItems(Came came, Episode episode) {
        List<Item> blank = new ArrayList<>();
        ScoredForm form = came.form().form();
        for (ScoreResult result : came.unscored()) {
            Scale scale = form.instrument().requireScale(result.scale());
            form.instrument().columns().stream()
                    .filter(c -> scale.composition().fold(made -> made.uses(c.item()), parts -> false))
                    .filter(c -> FollowUpAnalysis.ofTreatedHand(c.hand(), episode))
                    .filter(c -> !form.responses().entered(c.index()))
                    .map(Column::item)
                    .filter(item -> blank.stream().noneMatch(b -> b.id().equals(item.id())))
                    .forEach(blank::add);
        }
        return blank;
    }

    private void countOutside(List<Came> received) {
        for (Came came : received) {
            AssignedForm form = came.form();
            if (form.at().day().isPresent() && form.at().visit().isEmpty()) {
                int day = form.at().day().getAsInt();
                IntStream.range(0, counters.size())
                        .boxed()
                        .min(Comparator.comparingInt(
                                v -> Math.abs(schedule.visits().get(v).targetDay() - day)))
                        .ifPresent(nearest -> counters.get(nearest)
                                .computeIfAbsent(form.form().instrument().id(), i -> new Counter())
                                .outside++);
            }
        }
    }

    /** Counts, of the visits whose window is over, episodes that could have been seen, and those with nothing in it. */
    private void lookForEmptyVisits(Episode episode, List<Window> windows) {
        Optional<Episode.Closure> closure = episode.closureKnown(asOf);
        for (int v = 0; v < counters.size(); v++) {
            Window window = windows.get(v);
            boolean over = asOf.isAfter(window.closes())
                    && closure.filter(c -> !c.isAfter(window.closes())).isEmpty();
            if (over) {
                couldBeSeen[v]++;
                notSeen[v] += window.forms().isEmpty() ? 1 : 0;
            }
        }
    }

    private void noteFormsNotKnown() {
        if (!formsNotKnown.isEmpty()) {
            Episode first = formsNotKnown.get(0);
            notes.add(new Problem(
                    first.place(),
                    "",
                    ProblemCode.NOTE_FORMS_NOT_KNOWN,
                    "Of " + formsNotKnown.size() + (formsNotKnown.size() == 1 ? " episode" : " episodes")
                            + " it is not known which forms are expected, the first of them patient " + first.patient()
                            + ", episode " + first.id()
                            + ". Fill in forms of the episodes or of the schedule."));
        }
    }

    private void noteSchedule() {
        if (!Objects.equals(schedule, Schedule.DEFAULT)) { // looks for the same object first
            return;
        }
        List<String> empty = IntStream.range(0, counters.size())
                .filter(v -> couldBeSeen[v] > 0 && 2 * notSeen[v] >= couldBeSeen[v])
                .mapToObj(v -> schedule.visits().get(v).name() + " (" + notSeen[v] + " of " + couldBeSeen[v] + ")")
                .toList();
        if (!empty.isEmpty()) {
            notes.add(new Problem(
                            Place.of("schedule"),
                            "",
                            ProblemCode.NOTE_SCHEDULE_MAY_DIFFER,
                            "Half or more of the episodes that could have been seen have nothing at: "
                                    + String.join(", ", empty)
                                    + ". This is the default schedule. Is it your clinic's own?")
                    .mendedBy(Remedy.of(Remedy.Kind.SCHEDULE)));
        }
    }

    /** Expected against received by visit and instrument. */
    List<VisitCount> counts() {
        List<VisitCount> counts = new ArrayList<>();
        for (int v = 0; v < counters.size(); v++) {
            Visit visit = schedule.visits().get(v);
            counters.get(v).forEach((instrument, counter) -> counts.add(counter.toCount(visit, instrument)));
        }
        return counts;
    }

    private static final class Counter {
        private int expected;
        private int closed;
        private int notYet;
        private int received;
        private int scorable;
        private int enteredTwice;
        private int outside;
        private final Map<Reason, Integer> notScorable = new EnumMap<>(Reason.class);

        void receive(Came came) {
            expected++;
            received++;
            if (came.scorable()) {
                scorable++;
            } else if (came.form().contradicted()) {
                enteredTwice++;
            } else {
                notScorable.merge(
                        came.unscored().stream()
                                .flatMap(r -> r.reason().stream())
                                .findFirst()
                                .orElse(Reason.NO_ANSWERS),
                        1,
                        Integer::sum);
            }
        }

        void add(Counter further) {
            expected += further.expected;
            closed += further.closed;
            notYet += further.notYet;
            received += further.received;
            scorable += further.scorable;
            enteredTwice += further.enteredTwice;
            outside += further.outside;
            further.notScorable.forEach((reason, forms) -> notScorable.merge(reason, forms, Integer::sum));
        }

        VisitCount toCount(Visit visit, InstrumentId instrument) {
            return new VisitCount(
                    visit,
                    instrument,
                    expected,
                    closed,
                    notYet,
                    received,
                    scorable,
                    notScorable,
                    enteredTwice,
                    outside);
        }
    }
}
