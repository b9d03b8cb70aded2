package lumbrical.report.page;

import java.time.LocalDate;
import java.time.temporal.ChronoUnit;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.TreeMap;
import java.util.function.Predicate;
import java.util.stream.Collectors;
import java.util.stream.Stream;
import lumbrical.change.BeyondError;
import lumbrical.change.Change;
import lumbrical.change.ReachesMcid;
import lumbrical.change.VerdictReason;
import lumbrical.followup.AssignedScore;
import lumbrical.followup.CallRow;
import lumbrical.followup.Episode;
import lumbrical.followup.EpisodeFollowUp;
import lumbrical.followup.ExpectedForm;
import lumbrical.followup.FollowUpResult;
import lumbrical.followup.Schedule;
import lumbrical.followup.Visit;
import lumbrical.grip.GripRow;
import lumbrical.instrument.Direction;
import lumbrical.instrument.Grip;
import lumbrical.instrument.Instrument;
import lumbrical.instrument.InstrumentId;
import lumbrical.instrument.Range;
import lumbrical.instrument.ScoreStanding;
import lumbrical.instrument.Side;
import lumbrical.instrument.Threshold;
import lumbrical.number.Numbers;
import lumbrical.report.drawing.CourseDrawing;
import lumbrical.report.drawing.Drawing;
import lumbrical.scoring.Explanation;
import lumbrical.scoring.ScoreResult;
import lumbrical.scoring.ScoringOptions;
import lumbrical.scoring.ScoringPlan;
import lumbrical.sitting.ScoredForm;
import lumbrical.sitting.Sitting;

/** Turns an episode into what a page shows of it. */
final class EpisodeViews {
    static final String NONE = "\u2013";
    private static final String BASELINE_AFTER = "baseline after treatment start";

    private final LocalDate asOf;
    private final Schedule schedule;
    private final ThresholdCache thresholds;
    private final ScoringOptions scoring;
    private final Map<String, ScoringPlan> plans = new HashMap<>();

    EpisodeViews(FollowUpResult clinic, ScoringOptions scoring, ThresholdCache thresholds) {
        this.asOf = clinic.asOf();
        this.schedule = clinic.schedule();
        this.thresholds = thresholds;
        this.scoring = scoring;
    }

    /**
     * The view of an episode, not yet laid out on sheets.
     *
     * @param calls what is due of it
     */
    EpisodeView of(EpisodeFollowUp followUp, List<CallRow> calls, String anchor) {
        Episode episode = followUp.episode();
        List<ScaleCourse> courses = ScaleCourse.of(followUp, thresholds);
        List<ScaleView> scales = new ArrayList<>(courses.size());
        Map<ScoredFormKey, List<Explanation>> explained = new HashMap<>();
        InstrumentId before = new InstrumentId("none");
        for (ScaleCourse course : courses) {
            boolean same = course.instrument().id().equals(before);
            scales.add(scale(course, same ? course.scaleName() : course.name(), explained));
            before = course.instrument().id();
        }
        return new EpisodeView(
                anchor,
                episode.patient(),
                episode.id(),
                condition(followUp) + ", " + episode.treatedSide().code() + " hand",
                facts(followUp),
                courses.stream().filter(ScaleCourse::main).map(Sentence::of).toList(),
                "",
                List.of(new EpisodeView.Part("", scales)),
                scales,
                grips(followUp),
                due(followUp, calls),
                notes(followUp, courses));
    }

    // ---- who and what

    private List<String> facts(EpisodeFollowUp followUp) {
        Episode episode = followUp.episode();
        List<String> facts = new ArrayList<>();
        episode.dominantSide()
                .ifPresent(
                        d -> facts.add(d.includes(episode.treatedSide()) ? "dominant hand" : "not the dominant hand"));
        episode.procedure().filter(p -> !p.isBlank()).ifPresent(facts::add);
        facts.add(episode.indexDate()
                .map(day -> "treated " + day + since(day))
                .orElse("no index date: nothing is placed in time"));
        episode.closureKnown(asOf)
                .ifPresent(c -> facts.add("closed" + c.day().map(on -> " " + on).orElse(", day not known")
                        + (c.reason().isBlank() ? "" : " (" + c.reason() + ")")));
        episode.carried().forEach((column, value) -> {
            if (!value.isBlank()) {
                facts.add(column + ": " + value);
            }
        });
        return facts;
    }

    private String since(LocalDate day) {
        long days = ChronoUnit.DAYS.between(day, asOf);
        return days < 0 ? ", " + -days + " days from now" : ", day " + days + " on " + asOf;
    }

    /** The condition's label; where the vocabulary has another name for it, also as written. */
    static String condition(EpisodeFollowUp followUp) {
        return followUp.condition().label().orElse("condition not stated");
    }

    private static List<String> notes(EpisodeFollowUp followUp, List<ScaleCourse> courses) {
        List<String> notes = new ArrayList<>();
        if (followUp.forms().stream().allMatch(f -> f.form().responses().blank())) {
            notes.add("No form has been received.");
        } else if (courses.isEmpty() && followUp.grips().isEmpty()) {
            notes.add("The forms received give no score of this hand.");
        } else if (courses.isEmpty()) {
            notes.add("No questionnaire with a score has been received, only tasks that are read grip by grip.");
        }
        if (courses.stream().anyMatch(c -> c.entries().stream().anyMatch(ScaleCourse.Entry::enteredTwice))) {
            notes.add(
                    "A form was entered twice with different answers; neither entry is used in time until one is removed.");
        }
        return notes;
    }

    // ---- scales

    /** What tells forms apart whose arithmetic is shown. */
    private record ScoredFormKey(Sitting sitting, InstrumentId instrument) {}

    private ScaleView scale(ScaleCourse course, String label, Map<ScoredFormKey, List<Explanation>> explained) {
        AssignedScore latest = course.latest();
        return new ScaleView(
                course.instrument().id().value(),
                course.scale().id().value(),
                course.name(),
                summary(course, label),
                course.main(),
                drawing(course),
                false,
                course.entries().stream().map(e -> row(course, e)).toList(),
                facts(course),
                arithmetic(latest, explained));
    }

    private static ScaleView.Summary summary(ScaleCourse course, String label) {
        AssignedScore latest = course.latest();
        Optional<Change> change = course.lastChange();
        String later = course.laterWithoutScore()
                .filter(s ->
                        course.lastCounted().isPresent() || course.baseline().isPresent())
                .map(s -> "; later form not scored")
                .orElse("");
        return new ScaleView.Summary(
                label,
                shown(course, latest.result()),
                visit(latest) + ", " + latest.form().sitting().dayInWords() + later,
                change.map(c -> improvement(course, c)).orElse(""),
                change.map(c -> verdict(course, c)).orElse(""));
    }

    /** The score, with what unanswered items could make of it, or why there is none. */
    private static String shown(ScaleCourse course, ScoreResult result) {
        return result.scored()
                .map(s -> course.figures().fixed(s.value())
                        + result.bounds()
                                .filter(b -> b.width() > 0)
                                .map(b -> " (" + span(course, b) + ")")
                                .orElse(""))
                .orElse("not scored");
    }

    private static String span(ScaleCourse course, Range bounds) {
        return course.figures().fixed(bounds.low()) + " to " + course.figures().fixed(bounds.high());
    }

    static String visit(AssignedScore score) {
        return score.at().visitName().orElse("not placed in time");
    }

    private static String improvement(ScaleCourse course, Change change) {
        if (change.improvement().isEmpty()) {
            return "";
        }
        double value = change.improvement().getAsDouble();
        return (value > 0 ? "+" : "")
                + change.figures(course.figures()).fixed(value).replace('-', '\u2212');
    }

    private static String verdict(ScaleCourse course, Change change) {
        return change.verdict().words()
                + change.reason().map(r -> ": " + why(course, r)).orElse("")
                + (change.gapsCouldChangeVerdict().equals(Optional.of(true)) ? "; gaps could change that" : "")
                + (change.couldReach().equals(Optional.of(false)) ? "; the start left no room for the MCID" : "");
    }

    /** A paired scale with a baseline and a score: what is missing is an activity that was rated both times. */
    private static String why(ScaleCourse course, VerdictReason reason) {
        return course.paired() && reason == VerdictReason.NOT_SCORED
                ? "no activity was rated at both visits"
                : reason.words();
    }

    private static String acceptable(Change change) {
        return change.acceptableState()
                .map(a -> a ? "; acceptable state" : "; not an acceptable state")
                .orElse("");
    }

    private static ScaleView.Row row(ScaleCourse course, ScaleCourse.Entry entry) {
        AssignedScore score = entry.score();
        ScoreResult result = score.result();
        Optional<Change> change = score.change().map(c -> c.change());
        return new ScaleView.Row(
                score.at().visitName().orElse(""),
                visit(score) + use(score, entry),
                score.form().sitting().dayInWords()
                        + (score.at().day().isPresent()
                                ? ", day "
                                        + String.valueOf(score.at().day().getAsInt())
                                                .replace('-', '\u2212')
                                : ""),
                result.scored().map(s -> course.figures().fixed(s.value())).orElse("none"),
                result.bounds()
                        .filter(b -> b.width() > 0)
                        .map(b -> span(course, b))
                        .orElse(""),
                result.answered() + " of " + result.items(),
                change.map(c -> improvement(course, c)).orElse(""),
                change.flatMap(Change::beyondError).map(BeyondError::code).orElse(""),
                change.flatMap(Change::reachesMcid).map(ReachesMcid::code).orElse(""),
                change.flatMap(Change::mcidsMet)
                        .filter(m -> m.published() > 0)
                        .map(m -> m.met() + " of " + m.published())
                        .orElse(""),
                result.scored().isEmpty()
                        ? "no score: " + Wording.why(result.reason())
                        : change.map(c -> verdict(course, c) + acceptable(c)).orElse(""));
    }

    private static String use(AssignedScore score, ScaleCourse.Entry entry) {
        if (entry.enteredTwice()) {
            return " (entered twice, not used)";
        }
        return switch (score.use()) {
            case BASELINE -> score.at().day().orElse(0) > 0 ? " (" + BASELINE_AFTER + ")" : " (the start)";
            case FOLLOW_UP -> "";
            case NOT_USED -> score.result().scored().isPresent() ? " (listed only)" : "";
        };
    }

    private static List<String> facts(ScaleCourse course) {
        List<String> facts = new ArrayList<>();
        facts.add("From " + Numbers.format(course.scale().range().low()) + " to "
                + Numbers.format(course.scale().range().high()) + ", "
                + course.scale().better().code() + " is better. MCID "
                + value(course.thresholds().mcid()) + ", MDC "
                + value(course.thresholds().mdc())
                + course.thresholds()
                        .pass()
                        .map(t -> ", acceptable state at " + value(Optional.of(t))
                                + (course.scale().better() == Direction.LOWER ? " or less" : " or more"))
                        .orElse("")
                + ". Standing of the scoring rules: " + standing(course) + ".");
        if (course.paired()) {
            facts.add(
                    "An improvement is over the activities rated at both visits alone, so it can differ from the difference of the"
                            + " scores shown.");
        }
        course.scale()
                .noVerdictBefore()
                .ifPresent(n -> facts.add("No verdict before day " + n.day() + ": " + n.reason()));
        return facts;
    }

    /** The value, and what makes it weaker than a published one of the hand or arm. */
    private static String value(Optional<Threshold> threshold) {
        return threshold
                .map(t -> (t.value().isPresent() ? Numbers.format(t.value().getAsDouble()) : "not known")
                        + (t.level().isPresent() ? " (" + t.level().getAsInt() + " %)" : "")
                        + (t.provenance().published()
                                ? ""
                                : " (" + t.provenance().standing().code() + ")")
                        + (t.otherPopulation() ? " (other population)" : ""))
                .orElse("not known");
    }

    private static String standing(ScaleCourse course) {
        boolean filled = course.latest().result().outcome() == ScoreResult.Outcome.WITH_MISSING;
        return ScoreStanding.of(course.instrument(), course.scale(), course.hand(), filled)
                .code();
    }

    private String arithmetic(AssignedScore latest, Map<ScoredFormKey, List<Explanation>> explained) {
        ScoredForm form = latest.form();
        Instrument instrument = form.instrument();
        return explained
                .computeIfAbsent(
                        new ScoredFormKey(form.sitting(), instrument.id()),
                        k -> Explanation.of(
                                plans.computeIfAbsent(
                                        instrument.definition(), d -> ScoringPlan.of(instrument, scoring)),
                                form.responses(),
                                form.sitting().side()))
                .stream()
                .filter(e -> e.result().scale().equals(latest.scale().id())
                        && e.result().hand().equals(latest.result().hand()))
                .flatMap(e -> e.lines().stream())
                .map(String::strip)
                .collect(Collectors.joining("\n"));
    }

    // ---- the drawing

    private Optional<Drawing> drawing(ScaleCourse course) {
        List<CourseDrawing.Point> points = new ArrayList<>();
        int visitBefore = Integer.MIN_VALUE;
        for (ScaleCourse.Entry entry : course.entries()) {
            AssignedScore score = entry.score();
            if (entry.enteredTwice() || score.at().day().isEmpty()) {
                continue;
            }
            boolean counts = score.use() != AssignedScore.Use.NOT_USED;
            int visit = score.at().visit().map(this::position).orElse(-1);
            ScoreResult result = score.result();
            boolean open = result.bounds().filter(b -> b.width() > 0).isPresent();
            points.add(new CourseDrawing.Point(
                    score.at().day().getAsInt(),
                    result.scored().map(s -> OptionalDouble.of(s.value())).orElse(OptionalDouble.empty()),
                    open ? OptionalDouble.of(result.bounds().orElseThrow().low()) : OptionalDouble.empty(),
                    open ? OptionalDouble.of(result.bounds().orElseThrow().high()) : OptionalDouble.empty(),
                    result.scored().map(s -> course.figures().plain(s.value())).orElse(""),
                    counts,
                    counts && visit == visitBefore + 1));
            if (counts) {
                visitBefore = visit;
            }
        }
        return points.isEmpty() ? Optional.empty() : Optional.of(CourseDrawing.of(course(course, points)));
    }

    private int position(Visit visit) {
        return schedule.visits().indexOf(visit);
    }

    private static CourseDrawing.Course course(ScaleCourse course, List<CourseDrawing.Point> points) {
        boolean higher = course.scale().better() == Direction.HIGHER;
        OptionalDouble baseline = course.baseline()
                .flatMap(b -> b.result().scored())
                .map(s -> OptionalDouble.of(s.value()))
                .orElse(OptionalDouble.empty());
        String scores = course.entries().stream()
                .filter(e -> !e.enteredTwice())
                .map(ScaleCourse.Entry::score)
                .map(s -> visit(s) + " "
                        + s.result()
                                .scored()
                                .map(v -> course.figures().plain(v.value()))
                                .orElse("not scored"))
                .collect(Collectors.joining(", "));
        return new CourseDrawing.Course(
                course.name() + " over time, better is up: " + scores,
                course.scale().range().low(),
                course.scale().range().high(),
                higher,
                baseline,
                number(course.thresholds().mcid()),
                number(course.thresholds().mdc()),
                points);
    }

    private static OptionalDouble number(Optional<Threshold> threshold) {
        return threshold.map(Threshold::value).orElse(OptionalDouble.empty());
    }

    // ---- grips

    private record GripKey(LocalDate day, String visit, boolean ofHand) {}

    private List<EpisodeView.GripLine> grips(EpisodeFollowUp followUp) {
        Map<GripKey, List<GripRow>> lines = new TreeMap<>(
                Comparator.comparing(GripKey::day).thenComparing(GripKey::visit).thenComparing(k -> !k.ofHand()));
        followUp.grips().stream()
                .filter(g -> !g.sitting().completedOn().isAfter(asOf))
                .forEach(g -> lines.computeIfAbsent(
                                new GripKey(
                                        g.sitting().completedOn(),
                                        g.visit().orElse(""),
                                        g.hand().isPresent()),
                                k -> new ArrayList<>())
                        .add(g));
        Optional<GripKey> last = lines.keySet().stream()
                .max(Comparator.comparing(GripKey::ofHand).thenComparing(GripKey::day));
        Side treated = followUp.episode().treatedSide();
        return lines.entrySet().stream()
                .map(e -> new EpisodeView.GripLine(
                        (e.getKey().visit() + " " + e.getKey().day()).strip()
                                + (e.getKey().ofHand() ? "" : ", person"),
                        last.equals(Optional.of(e.getKey())),
                        Stream.of(Grip.values())
                                .map(grip -> cell(e.getKey(), e.getValue(), grip, treated))
                                .toList()))
                .toList();
    }

    /** The treated and the other hand, or the person. */
    private static String cell(GripKey key, List<GripRow> rows, Grip grip, Side treated) {
        String first =
                difficulty(rows, grip, r -> r.hand().isEmpty() || r.hand().get() == treated);
        String second =
                difficulty(rows, grip, r -> r.hand().isPresent() && r.hand().get() != treated);
        boolean none = first.equals(NONE) && second.equals(NONE);
        return none || !key.ofHand() ? first : first + " / " + second;
    }

    private static String difficulty(List<GripRow> rows, Grip grip, Predicate<GripRow> of) {
        return rows.stream()
                .filter(r -> r.grip() == grip && of.test(r))
                .reduce((a, b) -> b)
                .map(r -> String.valueOf(Math.round(r.difficulty())))
                .orElse(NONE);
    }

    // ---- what is due

    private List<String> due(EpisodeFollowUp followUp, List<CallRow> calls) {
        List<String> due = new ArrayList<>();
        calls.forEach(call -> due.add(call(call, titles(followUp))));
        followUp.expected().stream()
                .filter(f -> f.state() == ExpectedForm.State.NOT_YET)
                .min(Comparator.comparing(ExpectedForm::opens))
                .ifPresent(next -> due.add(
                        "next: " + next.visit().name() + ", from " + next.opens() + ", best on " + next.target()));
        return due;
    }

    private static Map<InstrumentId, String> titles(EpisodeFollowUp followUp) {
        Map<InstrumentId, String> titles = new HashMap<>();
        followUp.forms()
                .forEach(f -> titles.put(
                        f.form().instrument().id(),
                        f.form().instrument().facts().title()));
        return titles;
    }

    private static String call(CallRow call, Map<InstrumentId, String> titles) {
        return state(call.state()) + ": "
                + call.forms().stream()
                        .map(id -> titles.getOrDefault(id, id.value()))
                        .collect(Collectors.joining("; "))
                + ", at " + call.visit().name() + ", best on " + call.target() + ", closes " + call.closes();
    }

    static String state(ExpectedForm.State state) {
        return switch (state) {
            case OPEN -> "due now";
            case LATE -> "late";
            case INCOMPLETE -> "came, but cannot be scored";
            case DONE -> "done";
            case CLOSED -> "closed";
            case NOT_YET -> "not yet due";
            case MISSED -> "missed";
        };
    }
}
