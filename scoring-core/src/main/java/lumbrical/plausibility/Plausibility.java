package lumbrical.plausibility;

import java.time.LocalDate;
import java.time.LocalTime;
import java.time.temporal.ChronoUnit;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalDouble;
import lumbrical.instrument.Column;
import lumbrical.instrument.Composition;
import lumbrical.instrument.InstrumentId;
import lumbrical.instrument.Scale;
import lumbrical.instrument.ScaleId;
import lumbrical.instrument.Side;
import lumbrical.problem.Problem;
import lumbrical.problem.ProblemCode;
import lumbrical.scoring.ScoreResult;
import lumbrical.sitting.ScoredForm;
import lumbrical.sitting.Sitting;

/**
 * Notes on forms that may have been filled in or entered without care. The limits are ours; no source gives any.
 */
public final class Plausibility {
    /** Fewest answers of which it is worth saying that all are the same. */
    public static final int FEWEST_ANSWERS = 5;

    /** Two sittings at most so many days apart are set against each other. */
    public static final int DAYS_APART = 14;

    /** A change of more than this share of the scale's range within that time is said. */
    public static final double SHARE_OF_RANGE = 0.75;

    private static final Comparator<ScoredForm> BY_TIME = Comparator.comparing(
                    (ScoredForm f) -> f.sitting().completedOn())
            .thenComparing(f -> f.sitting().time().orElse(LocalTime.MIN));

    private final List<Problem> notes = new ArrayList<>();

    /** What tells the scores of a patient apart of which one can be set against another. */
    record Course(
            Optional<String> episode,
            Optional<Side> side,
            InstrumentId instrument,
            ScaleId scale,
            Optional<Side> hand) {
        // Equality written out: the one a record is given is put together at run time, and every start would pay.

        @Override
        public boolean equals(Object other) {
            return other instanceof Course course
                    && episode.equals(course.episode)
                    && side.equals(course.side)
                    && instrument.equals(course.instrument)
                    && scale.equals(course.scale)
                    && hand.equals(course.hand);
        }

        @Override
        public int hashCode() {
            int hash = 31 * episode.hashCode() + side.map(Side::ordinal).orElse(-1);
            hash = 31 * hash + instrument.hashCode();
            hash = 31 * hash + scale.hashCode();
            return 31 * hash + hand.map(Side::ordinal).orElse(-1);
        }
    }

    private record Last(LocalDate on, double score) {}

    private Plausibility() {}

    /** The notes on {@code forms}, in their order; a sitting is compared with the one before it in time. */
    public static List<Problem> notes(List<ScoredForm> forms) {
        Plausibility plausibility = new Plausibility();
        Map<Integer, List<Problem>> changes = largeChanges(forms);
        for (int i = 0; i < forms.size(); i++) {
            plausibility.sameAnswer(forms.get(i));
            plausibility.notes.addAll(changes.getOrDefault(i, List.of()));
            plausibility.answersAfterSkip(forms.get(i));
        }
        return List.copyOf(plausibility.notes);
    }

    /** By the position of the later form. */
    private static Map<Integer, List<Problem>> largeChanges(List<ScoredForm> forms) {
        Map<String, List<Integer>> byPatient = new HashMap<>();
        for (int i = 0; i < forms.size(); i++) {
            Sitting sitting = forms.get(i).sitting();
            if (sitting.day().isPresent()) {
                byPatient
                        .computeIfAbsent(sitting.patient(), p -> new ArrayList<>())
                        .add(i);
            }
        }
        Map<Integer, List<Problem>> found = new HashMap<>();
        for (List<Integer> ofPatient : byPatient.values()) {
            ofPatient.sort(Comparator.comparing(forms::get, BY_TIME));
            Map<Course, Last> last = new HashMap<>();
            for (int i : ofPatient) {
                List<Problem> changes = largeChanges(forms.get(i), last);
                if (!changes.isEmpty()) {
                    found.put(i, changes);
                }
            }
        }
        return found;
    }

    private void sameAnswer(ScoredForm form) {
        int answers = 0;
        OptionalDouble same = OptionalDouble.empty();
        for (Column column : form.instrument().columns()) {
            if (form.responses().entered(column.index())) {
                OptionalDouble response = form.responses().value(column.index());
                if (response.isEmpty() || answers > 0 && !response.equals(same)) {
                    return;
                }
                same = response;
                answers++;
            }
        }
        if (answers >= FEWEST_ANSWERS) {
            notes.add(new Problem(
                    form.sitting().place(),
                    "",
                    ProblemCode.NOTE_SAME_ANSWER_THROUGHOUT,
                    "All " + answers + " answers to " + form.instrument().id()
                            + " are the same. That can be right; look at the form if it surprises you."));
        }
    }

    /** @param last the scores before it, by course; takes those of the form */
    private static List<Problem> largeChanges(ScoredForm form, Map<Course, Last> last) {
        List<Problem> found = new ArrayList<>(0);
        Sitting sitting = form.sitting();
        for (ScoreResult result : form.results()) {
            Optional<ScoreResult.Scored> scored = result.scored();
            if (scored.isPresent()) {
                Course course = new Course(
                        sitting.episode(), sitting.side(), form.instrument().id(), result.scale(), result.hand());
                Last now = new Last(sitting.completedOn(), scored.get().value());
                Optional.ofNullable(last.put(course, now))
                        .flatMap(before -> compare(form, result, before, now))
                        .ifPresent(found::add);
            }
        }
        return found;
    }

    private static Optional<Problem> compare(ScoredForm form, ScoreResult result, Last before, Last now) {
        Scale scale = form.instrument().requireScale(result.scale());
        double range = scale.range().high() - scale.range().low();
        long days = Math.abs(ChronoUnit.DAYS.between(before.on(), now.on()));
        return days <= DAYS_APART && Math.abs(now.score() - before.score()) > SHARE_OF_RANGE * range
                ? Optional.of(new Problem(
                        form.sitting().place(),
                        "",
                        ProblemCode.NOTE_LARGE_CHANGE_IN_SHORT_TIME,
                        form.instrument().id() + " " + scale.id()
                                + " changed by more than three quarters of its range within " + days
                                + " days. That can be right; look at both forms for a wrong hand or a turned scale."))
                : Optional.empty();
    }

    /** A response that lets the person skip the other items, which are answered all the same, and not with their best codes. */
    private void answersAfterSkip(ScoredForm form) {
        for (Scale scale : form.instrument().scales()) {
            scale.composition().fromItems().ifPresent(made -> made.skip().ifPresent(skip -> {
                for (Column column : form.instrument().columns()) {
                    if (column.item().equals(skip.item())
                            && form.responses().value(column.index()).equals(OptionalDouble.of(skip.code()))) {
                        long others = contradicting(form, made, column);
                        if (others > 0) {
                            noteSkip(form, scale, column, others);
                        }
                    }
                }
            }));
        }
    }

    private static long contradicting(ScoredForm form, Composition.FromItems made, Column deciding) {
        return form.instrument().columns().stream()
                .filter(c -> c.hand().equals(deciding.hand()) && c.index() != deciding.index())
                .filter(c -> made.uses(c.item()))
                .filter(c -> form.responses().allowed(c).stream()
                        .anyMatch(r -> c.item().difficulty(r) > 0))
                .count();
    }

    private void noteSkip(ScoredForm form, Scale scale, Column deciding, long others) {
        notes.add(
                new Problem(
                        form.sitting().place(),
                        "",
                        ProblemCode.NOTE_ANSWERS_AFTER_SKIP,
                        "After the answer to " + deciding.name() + " the form asks no more of "
                                + form.instrument().id() + " " + scale.id() + ", but " + others
                                + (others == 1 ? " further item tells" : " further items tell")
                                + " of trouble. The score follows that answer alone; look at the form which of them is meant."));
    }
}
