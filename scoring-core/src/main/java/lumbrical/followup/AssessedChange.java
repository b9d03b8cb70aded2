package lumbrical.followup;

import java.util.EnumSet;
import java.util.Optional;
import java.util.Set;
import lumbrical.change.Change;
import lumbrical.change.ScorePair;
import lumbrical.change.VerdictReason;
import lumbrical.threshold.ThresholdSet;

/**
 * The change of a follow-up score since its baseline.
 *
 * @param baseline the baseline score, if the episode has one for this scale
 * @param change what changed and what that amounts to
 */
public record AssessedChange(Optional<AssignedScore> baseline, Change change) {
    /** The change of a follow-up score since that baseline, set against those thresholds. */
    static AssessedChange of(AssignedScore followUp, Optional<AssignedScore> baseline, ThresholdSet thresholds) {
        ScorePair pair = baseline.map(b -> ScorePair.of(
                        followUp.scale(),
                        b.form().responses(),
                        b.result(),
                        followUp.form().responses(),
                        followUp.result()))
                .orElseGet(() -> ScorePair.withoutBaseline(followUp.result()));
        Set<VerdictReason> circumstances = EnumSet.noneOf(VerdictReason.class);
        boolean early = followUp.scale()
                .noVerdictBefore()
                .filter(n -> followUp.at().day().orElse(n.day()) < n.day())
                .isPresent();
        if (early || followUp.at().visit().filter(v -> !v.verdict()).isPresent()) {
            circumstances.add(VerdictReason.TOO_EARLY);
        }
        return new AssessedChange(baseline, Change.of(followUp.scale(), pair, thresholds, circumstances));
    }
}
