package lumbrical.columns;

import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import lumbrical.change.BeyondError;
import lumbrical.change.ReachesMcid;
import lumbrical.change.VerdictReason;
import lumbrical.followup.ChangeRow;
import lumbrical.instrument.Threshold;
import lumbrical.number.Memo;
import lumbrical.output.OutputColumn;
import lumbrical.output.OutputTable;
import lumbrical.output.Value;

/** Change rows: a follow-up sitting against its baseline. */
public final class ChangeColumns {
    /** Few thresholds stand in many rows. */
    private static final Memo<Threshold, Value> CITED = new Memo<>(8, t -> Value.word(cite(t)));

    /** The table. */
    public static final OutputTable<ChangeRow> TABLE = new OutputTable<>("Change", columns());

    private ChangeColumns() {}

    private static List<OutputColumn<ChangeRow>> columns() {
        List<OutputColumn<ChangeRow>> c =
                new ArrayList<>(ScoreColumns.columns((ChangeRow row) -> ScoreRow.of(row.followUp())));
        c.add(OutputColumn.text(
                "used",
                "yes for the one form that counts in its window, else no",
                r -> Value.word(r.used() ? "yes" : "no")));
        c.add(OutputColumn.count(
                "day",
                "Days from the index date",
                r -> Value.number(r.followUp().at().day())));
        c.add(OutputColumn.number(
                "baseline",
                "Baseline score that was compared; for paired items the mean over the items rated both times",
                r -> Value.number(r.change().baseline())));
        c.add(OutputColumn.date(
                "baseline_on",
                "Day of the baseline form",
                r -> Value.day(
                        r.assessed().baseline().map(b -> b.form().sitting().completedOn()))));
        c.add(OutputColumn.number(
                "follow_up",
                "Follow-up score that was compared; for paired items the mean over the items rated both times",
                r -> Value.number(r.change().followUp())));
        c.add(OutputColumn.number(
                "change",
                "Follow-up minus baseline, as it stands",
                r -> Value.number(r.change().change())));
        c.add(OutputColumn.number(
                "improvement",
                "Positive when the patient got better, on every scale",
                r -> Value.number(r.change().improvement())));
        c.add(OutputColumn.number(
                "lowest_improvement",
                "Lowest improvement that any answers to the unanswered items of both forms could give",
                r -> r.change()
                        .improvementBounds()
                        .map(b -> Value.number(b.low()))
                        .orElse(Value.BLANK)));
        c.add(OutputColumn.number(
                "highest_improvement",
                "Highest improvement that any answers to the unanswered items of both forms could give",
                r -> r.change()
                        .improvementBounds()
                        .map(b -> Value.number(b.high()))
                        .orElse(Value.BLANK)));
        c.add(OutputColumn.number(
                "mdc",
                "Minimal detectable change used: beyond measurement error",
                r -> threshold(r.change().thresholds().mdc())));
        c.add(OutputColumn.count("mdc_level", "Confidence level of the MDC, 90 or 95, where known", r -> r.change()
                .thresholds()
                .mdc()
                .map(t -> Value.number(t.level()))
                .orElse(Value.BLANK)));
        c.add(OutputColumn.text(
                "mdc_source",
                "Where the MDC comes from: threshold id, population, method, standing",
                r -> cited(r.change().thresholds().mdc())));
        c.add(OutputColumn.text(
                "beyond_error",
                "Whether the change, either way, is at least the MDC: yes, no, or unknown without an MDC",
                r -> Value.word(r.change().beyondError().map(BeyondError::code))));
        c.add(OutputColumn.number(
                "mcid",
                "Minimal clinically important difference used",
                r -> threshold(r.change().thresholds().mcid())));
        c.add(OutputColumn.text(
                "mcid_source",
                "Where the MCID comes from: threshold id, population, method, standing",
                r -> cited(r.change().thresholds().mcid())));
        c.add(OutputColumn.text(
                "reaches_mcid",
                "Whether the change is at least the MCID: improved, worsened (the mirror is a convention of ours), no, or unknown"
                        + " without an MCID",
                r -> Value.word(r.change().reachesMcid().map(ReachesMcid::code))));
        c.add(OutputColumn.text(
                "verdict",
                "Both questions together; worsening mirrors improvement, a convention of ours",
                r -> Value.word(r.change().verdict().code())));
        c.add(OutputColumn.text(
                "verdict_reason",
                "Why a change is not assessable: no-baseline, not-scored, different-versions, no-mcid or too-early",
                r -> Value.word(r.change().reason().map(VerdictReason::code))));
        c.add(OutputColumn.text(
                "gaps_could_change_verdict",
                "yes if answers to the unanswered items could have turned the verdict; it speaks of unanswered items only",
                r -> Value.yesNo(r.change().gapsCouldChangeVerdict())));
        c.add(OutputColumn.text(
                "could_reach",
                "no if the baseline leaves less room than the MCID",
                r -> Value.yesNo(r.change().couldReach())));
        c.add(OutputColumn.count(
                "mcid_met",
                "Of the published MCIDs of this scale, how many the improvement reaches",
                r -> r.change().mcidsMet().map(m -> Value.number(m.met())).orElse(Value.BLANK)));
        c.add(OutputColumn.count(
                "mcid_published",
                "How many published MCIDs count: hand, wrist or upper limb, one per study",
                r -> r.change().mcidsMet().map(m -> Value.number(m.published())).orElse(Value.BLANK)));
        c.add(OutputColumn.text(
                "acceptable_state",
                "Whether the follow-up score reaches the patient acceptable symptom state",
                r -> Value.yesNo(r.change().acceptableState())));
        return c;
    }

    private static Value cited(Optional<Threshold> threshold) {
        return threshold.map(CITED::of).orElse(Value.BLANK);
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
                + (threshold.otherPopulation() ? "; other population" : "") + ")";
    }
}
