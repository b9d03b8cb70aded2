package lumbrical.columns;

import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import lumbrical.followup.Change;
import lumbrical.instrument.Threshold;
import lumbrical.output.OutputColumn;
import lumbrical.output.OutputTable;
import lumbrical.output.Value;

/** Change rows: a follow-up sitting against its baseline. */
public final class ChangeColumns {
    /** The table. */
    public static final OutputTable<Change> TABLE = new OutputTable<>("Change", columns());

    private ChangeColumns() {}

    private static List<OutputColumn<Change>> columns() {
        List<OutputColumn<Change>> c =
                new ArrayList<>(ScoreColumns.columns((Change change) -> ScoreRow.of(change.followUp())));
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
                r -> Value.word(r.mdc().map(ChangeColumns::cite))));
        c.add(OutputColumn.number("mcid", "Minimal clinically important difference used", r -> threshold(r.mcid())));
        c.add(OutputColumn.text(
                "mcid_source",
                "Where the MCID comes from: threshold id, population, method, standing",
                r -> Value.word(r.mcid().map(ChangeColumns::cite))));
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
}
