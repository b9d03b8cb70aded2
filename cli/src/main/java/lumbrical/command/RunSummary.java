package lumbrical.command;

import java.util.List;
import lumbrical.batch.ScoringCounts;
import lumbrical.clinic.ClinicResult;

/** The lines that end every run. */
final class RunSummary {
    private RunSummary() {}

    static void print(Console console, ClinicResult result, boolean quiet) {
        print(console, result.counts(), result.unusedEpisodeColumns(), quiet);
    }

    static void print(Console console, ScoringCounts tally, List<String> moreUnused, boolean quiet) {
        if (!quiet) {
            List<String> unused = tally.read().unusedColumns();
            if (!unused.isEmpty()) {
                console.say("columns not used: " + String.join(", ", unused));
            }
            if (!moreUnused.isEmpty()) {
                console.say("columns of the episodes not used: " + String.join(", ", moreUnused));
            }
        }
        console.say(tally.reconciliation());
        if (tally.read().longLayout()) {
            console.say("sittings " + tally.sittings()
                    + " (in the long layout a row is a response); a sitting is what one patient filled in on one day");
        }
        if (!quiet) {
            console.say(tally.outcomeLine());
        }
    }
}
