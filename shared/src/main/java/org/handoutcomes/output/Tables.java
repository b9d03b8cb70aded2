package org.handoutcomes.output;

import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.function.Function;
import org.handoutcomes.followup.Change;
import org.handoutcomes.followup.DueForm;
import org.handoutcomes.followup.VisitCount;
import org.handoutcomes.grip.GripRow;
import org.handoutcomes.instrument.Item;
import org.handoutcomes.instrument.Range;
import org.handoutcomes.instrument.Side;
import org.handoutcomes.instrument.Threshold;
import org.handoutcomes.problem.Problem;
import org.handoutcomes.scoring.Reason;
import org.handoutcomes.scoring.ScoreResult;

/** The tables we write. Each is described here and nowhere else. */
public final class Tables {
    /** Score rows: what every run gives. */
    public static final OutputTable<ScoreRow> SCORES = new OutputTable<>("Scores", scoreColumns(Function.identity()));

    /** Change rows: a follow-up sitting against its baseline. */
    public static final OutputTable<Change> CHANGE = new OutputTable<>("Change", changeColumns());

    /** Expected against received. */
    public static final OutputTable<VisitCount> FOLLOW_UP = new OutputTable<>("Follow-up", followUpColumns());

    /** The functional-task profile. */
    public static final OutputTable<GripRow> GRIP = new OutputTable<>("Grip tasks", gripColumns());

    /** Problems and notes. */
    public static final OutputTable<Problem> PROBLEMS = new OutputTable<>("Problems", problemColumns());

    /** Expected forms and how they stand. */
    public static final OutputTable<DueForm> DUE = new OutputTable<>("Due", dueColumns());

    private Tables() {}

    private static <R> List<OutputColumn<R>> scoreColumns(Function<R, ScoreRow> row) {
        List<OutputColumn<R>> c = new ArrayList<>();
        c.add(OutputColumn.text(
                "patient",
                "Pseudonymous id, as in the input",
                r -> Value.text(row.apply(r).sitting().patient())));
        c.add(OutputColumn.text(
                "episode",
                "One treatment of one side",
                r -> Value.text(row.apply(r).episode())));
        c.add(OutputColumn.text(
                "side",
                "right, left or both: the hand asked about, else the sitting's side",
                r -> Value.word(row.apply(r).side().map(Side::code))));
        c.add(OutputColumn.date(
                "completed_on",
                "Day of the sitting",
                r -> Value.day(row.apply(r).sitting().completedOn())));
        c.add(OutputColumn.text(
                "visit",
                "Visit of the schedule whose window holds the day; unscheduled outside every window",
                r -> Value.text(row.apply(r).visit())));
        c.add(OutputColumn.text(
                "instrument",
                "Instrument id",
                r -> Value.word(row.apply(r).instrument().id().value())));
        c.add(OutputColumn.text(
                "scale", "Scale id", r -> Value.word(row.apply(r).scale().id().value())));
        c.add(OutputColumn.number(
                "score",
                "The score by the instrument's manual, unrounded; blank if there is none",
                r -> Value.number(row.apply(r)
                        .result()
                        .scored()
                        .map(s -> OptionalDouble.of(s.value()))
                        .orElse(OptionalDouble.empty()))));
        c.add(OutputColumn.text(
                "outcome",
                "complete, with-missing (scored under the missing-item rule) or not-scored",
                r -> Value.word(row.apply(r).result().outcome().code())));
        c.add(OutputColumn.text(
                "reason",
                "Why there is no score",
                r -> Value.word(row.apply(r).result().reason().map(Reason::code))));
        c.add(OutputColumn.number(
                "items",
                "Items that count for this sitting",
                r -> Value.number(row.apply(r).result().items())));
        c.add(OutputColumn.number(
                "answered",
                "How many of them were answered",
                r -> Value.number(row.apply(r).result().answered())));
        c.add(OutputColumn.number(
                "lowest",
                "Lowest score that any answers to the unanswered items could give",
                r -> bound(row.apply(r).result(), true)));
        c.add(OutputColumn.number(
                "highest",
                "Highest score that any answers to the unanswered items could give",
                r -> bound(row.apply(r).result(), false)));
        c.add(OutputColumn.text(
                "better",
                "Which end of the scale is the good one: lower or higher",
                r -> Value.word(row.apply(r).scale().better().code())));
        c.add(OutputColumn.text(
                "definition",
                "Definition and version that scored it",
                r -> Value.word(row.apply(r).instrument().definition())));
        c.add(OutputColumn.number(
                "standard_error",
                "Standard error of the score, where the instrument's table gives one",
                r -> precision(row.apply(r).result(), Part.ERROR)));
        c.add(OutputColumn.number(
                "ci_low",
                "Lower end of the 95 % interval (score - 1.96 x standard error)",
                r -> precision(row.apply(r).result(), Part.LOW)));
        c.add(OutputColumn.number(
                "ci_high",
                "Upper end of the 95 % interval (score + 1.96 x standard error)",
                r -> precision(row.apply(r).result(), Part.HIGH)));
        return c;
    }

    private enum Part {
        ERROR,
        LOW,
        HIGH
    }

    private static Value bound(ScoreResult result, boolean low) {
        return result.bounds().map(b -> Value.number(low ? b.low() : b.high())).orElse(Value.BLANK);
    }

    private static Value precision(ScoreResult result, Part part) {
        Optional<ScoreResult.Scored> scored =
                result.scored().filter(s -> s.precision().isPresent());
        if (scored.isEmpty()) {
            return Value.BLANK;
        }
        ScoreResult.Precision precision = scored.get().precision().orElseThrow();
        Range interval = precision.interval95(scored.get().value());
        return switch (part) {
            case ERROR -> Value.number(precision.standardError());
            case LOW -> Value.number(interval.low());
            case HIGH -> Value.number(interval.high());
        };
    }

    private static List<OutputColumn<Change>> changeColumns() {
        List<OutputColumn<Change>> c = new ArrayList<>(scoreColumns((Change change) -> ScoreRow.of(change.followUp())));
        c.add(OutputColumn.text(
                "used",
                "yes for the one sitting that counts in its window, else no",
                r -> Value.word(r.used() ? "yes" : "no")));
        c.add(OutputColumn.number(
                "day",
                "Days from the index date",
                r -> r.followUp().placement().map(p -> Value.number(p.day())).orElse(Value.BLANK)));
        c.add(OutputColumn.number(
                "baseline",
                "Baseline score; for paired items the mean over the items rated at both sittings",
                r -> Value.number(r.baselineScore())));
        c.add(OutputColumn.date(
                "baseline_on",
                "Day of the baseline sitting",
                r -> Value.day(r.baseline().map(b -> b.form().sitting().completedOn()))));
        c.add(OutputColumn.number("change", "Follow-up minus baseline, as it stands", r -> Value.number(r.change())));
        c.add(OutputColumn.number(
                "improvement",
                "Positive when the patient got better, on every scale",
                r -> Value.number(r.improvement())));
        c.add(OutputColumn.number(
                "lowest_improvement",
                "Lowest improvement under the bounds of both scores",
                r -> r.improvementBounds().map(b -> Value.number(b.low())).orElse(Value.BLANK)));
        c.add(OutputColumn.number(
                "highest_improvement",
                "Highest improvement under the bounds of both scores",
                r -> r.improvementBounds().map(b -> Value.number(b.high())).orElse(Value.BLANK)));
        c.add(OutputColumn.number(
                "mdc", "Minimal detectable change used: beyond measurement error", r -> threshold(r.mdc())));
        c.add(OutputColumn.number("mdc_level", "Confidence level of the MDC, 90 or 95, where known", r -> r.mdc()
                .map(t -> Value.number(t.level()))
                .orElse(Value.BLANK)));
        c.add(OutputColumn.text(
                "mdc_source",
                "Where the MDC comes from",
                r -> Value.word(r.mdc().map(Tables::cite))));
        c.add(OutputColumn.number("mcid", "Minimal clinically important difference used", r -> threshold(r.mcid())));
        c.add(OutputColumn.text(
                "mcid_source",
                "Where the MCID comes from: threshold id, population, method, standing",
                r -> Value.word(r.mcid().map(Tables::cite))));
        c.add(OutputColumn.text(
                "verdict",
                "What the change amounts to; worsening mirrors improvement, a convention of ours",
                r -> Value.word(r.verdict().code()
                        + r.whyNotAssessable().map(w -> ": " + w).orElse(""))));
        c.add(OutputColumn.text(
                "certain", "no if unanswered items could turn the verdict", r -> Value.yesNo(r.certain())));
        c.add(OutputColumn.text(
                "could_reach", "no if the baseline leaves less room than the MCID", r -> Value.yesNo(r.couldReach())));
        c.add(OutputColumn.number(
                "mcid_met",
                "Of the published MCIDs of this scale, how many the improvement reaches",
                r -> r.mcidMet().map(m -> Value.number(m.met())).orElse(Value.BLANK)));
        c.add(OutputColumn.number(
                "mcid_published",
                "How many published MCIDs count: hand, wrist or upper limb, one per study",
                r -> r.mcidMet().map(m -> Value.number(m.published())).orElse(Value.BLANK)));
        c.add(OutputColumn.text(
                "acceptable_state",
                "Whether the follow-up score reaches the patient acceptable symptom state",
                r -> Value.yesNo(r.acceptableState())));
        return c;
    }

    private static Value threshold(Optional<Threshold> threshold) {
        return threshold.map(t -> Value.number(t.value())).orElse(Value.BLANK);
    }

    /** A threshold in one line: id, population, method, standing. */
    public static String cite(Threshold threshold) {
        return threshold.id() + " (" + threshold.population() + "; " + threshold.method()
                + (threshold.n().isPresent() ? "; n " + threshold.n().getAsInt() : "")
                + (threshold.provenance().published()
                        ? ""
                        : "; " + threshold.provenance().standing().code())
                + (threshold.borrowed() ? "; borrowed population" : "") + ")";
    }

    private static List<OutputColumn<VisitCount>> followUpColumns() {
        List<OutputColumn<VisitCount>> c = new ArrayList<>();
        c.add(OutputColumn.text(
                "visit", "Visit of the schedule", r -> Value.text(r.visit().name())));
        c.add(OutputColumn.text(
                "instrument", "Instrument id", r -> Value.word(r.instrument().value())));
        c.add(OutputColumn.number(
                "expected",
                "Forms expected of episodes whose window has opened (CONSORT-PRO 13a)",
                r -> Value.number(r.expected())));
        c.add(OutputColumn.number(
                "received",
                "Of these, forms received in the window (CONSORT-PRO 13a)",
                r -> Value.number(r.received())));
        c.add(OutputColumn.number(
                "received_percent",
                "Received of expected, percent",
                r -> r.expected() == 0 ? Value.BLANK : Value.number(100.0 * r.received() / r.expected())));
        c.add(OutputColumn.number(
                "scorable",
                "Of the received, forms of which every scale but optional ones has a score (CONSORT-PRO 16)",
                r -> Value.number(r.scorable())));
        for (Reason reason : Reason.values()) {
            c.add(OutputColumn.number(
                    "not_scored_" + reason.code().replace('-', '_'),
                    "Received forms not scorable for this reason (CONSORT-PRO P12a)",
                    r -> Value.number(r.notScorable().getOrDefault(reason, 0))));
        }
        c.add(OutputColumn.number(
                "outside_window",
                "Forms received outside every window, nearest to this visit",
                r -> Value.number(r.outsideWindow())));
        c.add(OutputColumn.number(
                "closed", "Episodes closed before this visit: nothing expected", r -> Value.number(r.closed())));
        c.add(OutputColumn.number("not_yet", "Episodes whose window has not opened", r -> Value.number(r.notYet())));
        return c;
    }

    private static List<OutputColumn<GripRow>> gripColumns() {
        return List.of(
                OutputColumn.text(
                        "patient",
                        "Pseudonymous id",
                        r -> Value.text(r.sitting().patient())),
                OutputColumn.text("episode", "One treatment of one side", r -> Value.text(r.episode())),
                OutputColumn.text(
                        "side",
                        "The hand asked about; blank for items asked of the person",
                        r -> Value.word(r.hand().map(Side::code))),
                OutputColumn.date(
                        "completed_on",
                        "Day of the sitting",
                        r -> Value.day(r.sitting().completedOn())),
                OutputColumn.text("visit", "Visit of the schedule", r -> Value.text(r.visit())),
                OutputColumn.text(
                        "grip",
                        "key, pinch, precision, power, hook or cylindrical",
                        r -> Value.word(r.grip().code())),
                OutputColumn.number(
                        "difficulty",
                        "0 none to 100 cannot do; mean of the answered items. Descriptive, not a validated scale, no MCID",
                        r -> Value.number(r.difficulty())),
                OutputColumn.number(
                        "items", "Items with this grip on the forms of the sitting", r -> Value.number(r.items())),
                OutputColumn.number("answered", "How many of them were answered", r -> Value.number(r.answered())),
                OutputColumn.text("from", "The items answered", r -> Value.word(String.join(" ", r.from()))));
    }

    private static List<OutputColumn<Problem>> problemColumns() {
        return List.of(
                OutputColumn.text(
                        "file",
                        "File, with #sheet where one was named",
                        r -> Value.text(r.place().file())),
                OutputColumn.number(
                        "row",
                        "Row as a spreadsheet shows it, header = 1",
                        r -> Value.number(r.place().row())),
                OutputColumn.text("column", "Heading", r -> Value.text(r.place().column())),
                OutputColumn.text(
                        "value", "What stands there; blank where it must not be echoed", r -> Value.text(r.value())),
                OutputColumn.text(
                        "problem",
                        "Its kind; codes that start with note- are notes",
                        r -> Value.word(r.code().code())),
                OutputColumn.text("advice", "What is wrong and what to do", r -> Value.word(r.advice())));
    }

    private static List<OutputColumn<DueForm>> dueColumns() {
        return List.of(
                OutputColumn.text(
                        "patient",
                        "Pseudonymous id",
                        r -> Value.text(r.episode().patient())),
                OutputColumn.text(
                        "episode",
                        "One treatment of one side",
                        r -> Value.text(r.episode().id())),
                OutputColumn.text(
                        "visit",
                        "Visit of the schedule",
                        r -> Value.text(r.visit().name())),
                OutputColumn.text(
                        "instrument",
                        "The form expected",
                        r -> Value.word(r.instrument().value())),
                OutputColumn.date("opens", "First day of the window", r -> Value.day(r.opens())),
                OutputColumn.date("target", "Day aimed at", r -> Value.day(r.target())),
                OutputColumn.date("closes", "Last day of the window", r -> Value.day(r.closes())),
                OutputColumn.number(
                        "days_left",
                        "Days to the last day of the window; negative once past",
                        r -> Value.number(r.daysLeft())),
                OutputColumn.text(
                        "state",
                        "not-yet, due, overdue, missed, received or received-not-scorable",
                        r -> Value.word(r.state().code())),
                OutputColumn.text(
                        "blank_items",
                        "For a form that cannot be scored: the items to ask for",
                        r -> Value.word(String.join(
                                "; ", r.blankItems().stream().map(Tables::item).toList()))));
    }

    private static String item(Item item) {
        return item.id() + " " + item.topic();
    }
}
