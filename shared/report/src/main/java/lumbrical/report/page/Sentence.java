package lumbrical.report.page;

import java.util.Optional;
import java.util.OptionalDouble;
import lumbrical.change.BeyondError;
import lumbrical.change.Change;
import lumbrical.change.Verdict;
import lumbrical.change.VerdictReason;
import lumbrical.followup.AssignedScore;
import lumbrical.instrument.ChangeRule;
import lumbrical.instrument.Range;
import lumbrical.instrument.Threshold;
import lumbrical.number.Figures;
import lumbrical.number.Numbers;

/**
 * One plain sentence on a course, which a surgeon can say to the patient: what changed since the start, whether that is beyond
 * measurement error, whether patients call it important, and what is not known. It never advises. Its cases stand, with their wording,
 * in {@code docs/pages.md}.
 */
final class Sentence {
    private static final String NOBODY_ASKED = "found from how widely scores spread, not by asking patients";

    private final ScaleCourse course;

    private Sentence(ScaleCourse course) {
        this.course = course;
    }

    static String of(ScaleCourse course) {
        return course.name() + ": " + new Sentence(course).text() + ".";
    }

    private String text() {
        Optional<AssignedScore> last = course.lastCounted();
        if (course.instrument().facts().change().kind() == ChangeRule.Kind.NONE) {
            return rating();
        } else if (last.isPresent()) {
            return last.get().change().map(c -> changed(last.get(), c.change())).orElseGet(this::listedOnly)
                    + baselineAfterTreatment(last.get())
                    + course.laterWithoutScore()
                            .map(s -> "; the later form, " + Wording.when(s) + ", could not be scored, because "
                                    + Wording.why(s.result().reason()))
                            .orElse("");
        }
        return course.laterWithoutScore().map(this::notScored).orElseGet(this::listedOnly);
    }

    /** A score that is itself a rating of change. */
    private String rating() {
        AssignedScore score = course.latest();
        return score.result()
                .scored()
                .map(s -> Wording.when(score) + " your own rating of the change was " + plain(s.value())
                        + ", on a scale from " + ends())
                .orElseGet(() -> without(score));
    }

    private String ends() {
        Range range = course.scale().range();
        return Numbers.format(range.low()) + " to " + Numbers.format(range.high()) + " where " + better();
    }

    private String better() {
        return course.scale().better().code() + " is better";
    }

    private String plain(double value) {
        return course.figures().plain(value);
    }

    private String score(OptionalDouble value) {
        return value.isPresent() ? plain(value.getAsDouble()) : "none";
    }

    private String without(AssignedScore score) {
        return "the form " + Wording.when(score) + " could not be scored, because "
                + Wording.why(score.result().reason());
    }

    /** Nothing to compare: what there is, and why it is not compared. */
    private String listedOnly() {
        AssignedScore latest = course.latest();
        boolean twice = course.entries().stream().allMatch(ScaleCourse.Entry::enteredTwice);
        if (twice) {
            return "the form " + Wording.when(latest)
                    + " was entered twice with different answers, and is not used until one is removed";
        } else if (course.baseline().isPresent()) {
            return "at the start your score was " + valueOf(latest) + ", on a scale from " + ends()
                    + "; there is no later score yet to set against it";
        } else if (latest.result().scored().isEmpty()) {
            return without(latest);
        }
        return Wording.when(latest) + " your score was " + valueOf(latest) + ", on a scale from " + ends() + "; "
                + notPlaced(latest) + ", so it is not compared";
    }

    private static String notPlaced(AssignedScore score) {
        if (score.at().day().isPresent()) {
            return "it lies outside the planned visits";
        }
        return score.at().episode().indexDate().isPresent()
                ? "that day has not come yet"
                : "the day of the treatment is not known";
    }

    private String valueOf(AssignedScore score) {
        return score.result().scored().map(s -> plain(s.value())).orElse("none");
    }

    /** The only forms after the start have no score. */
    private String notScored(AssignedScore form) {
        Optional<Change> change = form.change().map(c -> c.change());
        String start = course.baseline()
                .map(b -> ", so there is nothing to set against the start (" + valueOf(b) + ")")
                .orElse("; there is no score from the start either");
        return without(form)
                + start
                + change.flatMap(Change::improvementBounds)
                        .map(b -> "; whatever the missing answers, it would be " + span(b, course.figures()))
                        .orElse("");
    }

    private String baselineAfterTreatment(AssignedScore last) {
        boolean after = last.change()
                .flatMap(c -> c.baseline())
                .filter(b -> b.at().day().orElse(0) > 0)
                .isPresent();
        return after ? "; the start was measured after the treatment had begun" : "";
    }

    private String changed(AssignedScore score, Change change) {
        if (change.improvement().isEmpty()) {
            return incomparable(score, change);
        }
        double improvement = change.improvement().getAsDouble();
        Figures figures = change.figures(course.figures());
        String paired = course.paired() ? ", over the activities rated both times," : "";
        String fromTo = "from " + score(change.baseline()) + " to " + score(change.followUp()) + ", where " + better();
        if (Math.abs(improvement) <= Figures.EQUAL) {
            return Wording.when(score) + paired + " your score was the same as at the start ("
                    + score(change.followUp()) + ", where " + better() + ")" + judgement(change, 0, figures)
                    + gaps(change, figures);
        }
        return Wording.when(score) + paired + " your score was " + amount(improvement, figures) + " than at the start ("
                + fromTo + ")" + judgement(change, improvement, figures) + gaps(change, figures);
    }

    private static String amount(double improvement, Figures figures) {
        return figures.points(Math.abs(improvement)) + (improvement > 0 ? " better" : " worse");
    }

    /** From the worst to the best, in words. */
    private static String span(Range improvement, Figures figures) {
        return end(improvement.low(), figures) + " to " + end(improvement.high(), figures) + " than at the start";
    }

    private static String end(double improvement, Figures figures) {
        return Math.abs(improvement) <= Figures.EQUAL ? "0 points better" : amount(improvement, figures);
    }

    private String incomparable(AssignedScore score, Change change) {
        String now = Wording.when(score) + " your score was " + valueOf(score);
        VerdictReason reason = change.reason().orElse(VerdictReason.NO_BASELINE);
        return switch (reason) {
            case DIFFERENT_VERSIONS ->
                now + "; it comes from another version of the questionnaire than the score from the start ("
                        + score(change.baseline()) + "), so the two are not compared";
            case NOT_SCORED ->
                now + "; none of the activities rated then had been rated at the start, so there is no change to tell";
            case NO_BASELINE, NO_MCID, TOO_EARLY ->
                now + ", on a scale from " + ends() + "; there is no score from the start to set it against";
        };
    }

    /** Both questions: beyond error, and as much as patients call important. */
    private String judgement(Change change, double improvement, Figures figures) {
        String mcid = value(change.thresholds().mcid(), figures);
        String mdc = value(change.thresholds().mdc(), figures);
        BeyondError beyond = change.beyondError().orElse(BeyondError.UNKNOWN);
        String noMdc = "; how large the measurement error is, is not known";
        String room = change.couldReach().equals(Optional.of(false))
                ? "; the start left no room for an improvement of " + mcid
                : "";
        String withinError = "measurement error could explain (less than " + mdc + ")";
        return switch (change.verdict()) {
            case IMPORTANT_IMPROVEMENT ->
                ", an improvement " + important(change, mcid)
                        + (beyond == BeyondError.YES ? " and that is " + beyondError(mdc) : noMdc);
            case IMPROVEMENT_WITHIN_ERROR ->
                ", an improvement " + important(change, mcid) + ", but one that " + withinError;
            case SMALL_IMPROVEMENT ->
                ", a real improvement, " + beyondError(mdc) + ", but smaller than "
                        + whatMatters(change, mcid, "patients call") + room;
            case NO_IMPORTANT_CHANGE ->
                (improvement == 0
                                ? ", no change"
                                : ", a difference "
                                        + (beyond == BeyondError.UNKNOWN ? "" : "that " + withinError + ", and one ")
                                        + "smaller than " + whatMatters(change, mcid, calls(improvement))
                                        + (beyond == BeyondError.UNKNOWN ? noMdc : ""))
                        + (improvement < 0 ? "" : room);
            case SMALL_WORSENING ->
                ", a real worsening, " + beyondError(mdc) + ", but smaller than what counts as important (" + mcid
                        + ")";
            case WORSENING_WITHIN_ERROR ->
                ", a worsening as large as what counts as important (" + mcid + " or more), but one that "
                        + withinError;
            case IMPORTANT_WORSENING ->
                ", a worsening as large as what counts as important (" + mcid + " or more)"
                        + (beyond == BeyondError.YES ? " and " + beyondError(mdc) : noMdc);
            case NOT_ASSESSABLE -> notAssessable(change, improvement, beyond, mdc);
        };
    }

    /** Where nobody was asked, nobody is said to have called it so. */
    private static String important(Change change, String mcid) {
        return spread(change)
                ? "as large as the published smallest important one (" + mcid + " or more, " + NOBODY_ASKED + ")"
                : "that patients call important (" + mcid + " or more)";
    }

    private static String whatMatters(Change change, String mcid, String who) {
        return spread(change)
                ? "the published smallest important one (" + mcid + ", " + NOBODY_ASKED + ")"
                : "what " + who + " important (" + mcid + ")";
    }

    private static boolean spread(Change change) {
        return change.thresholds().mcid().filter(Threshold::byDistribution).isPresent();
    }

    private static String calls(double improvement) {
        return improvement > 0 ? "patients call" : "counts as";
    }

    private static String beyondError(String mdc) {
        return "beyond measurement error (" + mdc + " or more)";
    }

    private static String notAssessable(Change change, double improvement, BeyondError beyond, String mdc) {
        if (change.reason().equals(Optional.of(VerdictReason.TOO_EARLY))) {
            return "; it is too early to judge this";
        }
        String importance = "; how large a change patients call important is not known";
        return switch (beyond) {
            case YES ->
                ", a real " + (improvement > 0 ? "improvement" : "worsening") + ", " + beyondError(mdc) + importance;
            case NO ->
                (improvement == 0 ? "" : ", a difference that measurement error could explain (less than " + mdc + ")")
                        + importance;
            case UNKNOWN -> "; neither the measurement error nor how large a change patients call important is known";
        };
    }

    private static String value(Optional<Threshold> threshold, Figures figures) {
        OptionalDouble value = threshold.map(Threshold::value).orElse(OptionalDouble.empty());
        return value.isPresent() ? figures.plain(value.getAsDouble()) : "not known";
    }

    private static String gaps(Change change, Figures figures) {
        boolean could = change.verdict() != Verdict.NOT_ASSESSABLE
                && change.gapsCouldChangeVerdict().equals(Optional.of(true));
        return could
                ? change.improvementBounds()
                        .map(b -> "; questions left unanswered could change this (anything from " + span(b, figures)
                                + ")")
                        .orElse("")
                : "";
    }
}
