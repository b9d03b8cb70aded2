package lumbrical.command;

import static lumbrical.number.Numbers.format;

import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
import lumbrical.change.Change;
import lumbrical.change.ThresholdOutcome;
import lumbrical.columns.ChangeColumns;
import lumbrical.followup.AssignedScore;
import lumbrical.followup.ChangeRow;
import lumbrical.instrument.Instrument;
import lumbrical.instrument.Range;
import lumbrical.instrument.Threshold;

/** A change in words. */
final class ExplainedChange {
    private ExplainedChange() {}

    static List<String> lines(ChangeRow row) {
        List<String> lines = new ArrayList<>();
        AssignedScore follow = row.followUp();
        Change change = row.change();
        Instrument instrument = follow.form().instrument();
        lines.add("Change of " + instrument.definition() + " " + follow.scale().id() + ", episode "
                + follow.at().episode().id() + ", visit "
                + follow.at().visitName().orElse("none") + " (day "
                + follow.at().day().orElse(0) + ")"
                + (row.used() ? "" : ", not the form that counts in its window"));
        lines.add("  baseline "
                + row.assessed()
                        .baseline()
                        .map(b -> b.form().sitting().completedOn() + ": " + shown(change.baseline())
                                + bounds(b.result().bounds()))
                        .orElse("none"));
        lines.add("  follow-up " + follow.form().sitting().completedOn() + ": " + shown(change.followUp())
                + bounds(follow.result().bounds()));
        change.improvement().ifPresent(improvement -> {
            lines.add("  change " + shown(change.change()) + "; "
                    + follow.scale().better().code() + " is better, so the improvement is " + format(improvement)
                    + bounds(change.improvementBounds()));
            ThresholdOutcome.of(instrument, follow.scale(), improvement).forEach(o -> lines.add(against(o)));
        });
        lines.add("  used: MCID " + used(change.thresholds().mcid()) + "; MDC "
                + used(change.thresholds().mdc()));
        follow.scale().defaults().ifPresent(d -> lines.add("  why these by default: " + d.reason()));
        change.beyondError().ifPresent(b -> lines.add("  beyond measurement error: " + b.code()));
        change.reachesMcid().ifPresent(r -> lines.add("  as much as patients call important: " + r.code()));
        lines.add("  verdict: " + change.verdict().words()
                + change.reason().map(r -> ", because " + r.words()).orElse("")
                + change.gapsCouldChangeVerdict()
                        .filter(could -> could)
                        .map(could -> "; unanswered items could change that")
                        .orElse("")
                + change.couldReach()
                        .filter(could -> !could)
                        .map(could -> "; the baseline left no room for the MCID")
                        .orElse("")
                + change.mcidsMet()
                        .map(m -> "; reaches " + m.met() + " of " + m.published() + " published MCIDs")
                        .orElse(""));
        change.acceptableState()
                .ifPresent(a -> lines.add("  acceptable state: " + (a ? "yes" : "no") + ", by "
                        + used(change.thresholds().pass())));
        lines.add("");
        return lines;
    }

    private static String shown(OptionalDouble score) {
        return score.isPresent() ? format(score.getAsDouble()) : "no score";
    }

    private static String used(Optional<Threshold> threshold) {
        return threshold
                .map(t -> shown(t.value()) + ", " + ChangeColumns.cite(t))
                .orElse("none known");
    }

    private static String bounds(Optional<Range> bounds) {
        return bounds.filter(b -> b.width() > 0)
                .map(b -> " (possible " + format(b.low()) + " to " + format(b.high()) + ")")
                .orElse("");
    }

    private static String against(ThresholdOutcome o) {
        String met =
                switch (o.outcome()) {
                    case IMPROVED -> "reached";
                    case WORSENED -> "reached as worsening";
                    case NOT_MET -> "not reached";
                };
        return "    " + o.threshold().kind().code() + " " + format(o.value()) + " " + met + ": "
                + ChangeColumns.cite(o.threshold());
    }
}
