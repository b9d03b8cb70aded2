package lumbrical.followup;

import java.util.Locale;
import java.util.Optional;
import java.util.OptionalDouble;
import lumbrical.instrument.Range;
import lumbrical.instrument.Threshold;

/**
 * A follow-up set against its baseline: one row of the {@code Change} sheet.
 *
 * @param followUp the follow-up score row
 * @param used whether it is the one that counts in its window
 * @param baseline the baseline score row, if the episode has one for this scale
 * @param baselineScore the baseline's score; for paired items the mean over the items rated at both sittings
 * @param change follow-up minus baseline
 * @param improvement positive when the person got better, whichever way the scale runs
 * @param improvementBounds lowest and highest improvement under the bounds of both scores
 * @param mdc the MDC used
 * @param mcid the MCID used
 * @param verdict what the change amounts to
 * @param whyNotAssessable the reason, for {@link Verdict#NOT_ASSESSABLE}
 * @param certain whether the verdict is the same at both ends of {@code improvementBounds}
 * @param couldReach whether the baseline leaves room for the MCID
 * @param mcidMet of the published MCIDs, how many are reached
 * @param pass the PASS used
 * @param acceptableState whether the follow-up reaches the PASS
 */
public record Change(
        AssignedScore followUp,
        boolean used,
        Optional<AssignedScore> baseline,
        OptionalDouble baselineScore,
        OptionalDouble change,
        OptionalDouble improvement,
        Optional<Range> improvementBounds,
        Optional<Threshold> mdc,
        Optional<Threshold> mcid,
        Verdict verdict,
        Optional<String> whyNotAssessable,
        Optional<Boolean> certain,
        Optional<Boolean> couldReach,
        Optional<Met> mcidMet,
        Optional<Threshold> pass,
        Optional<Boolean> acceptableState) {

    /**
     * Of so many published MCIDs so many are reached.
     *
     * @param met how many are reached
     * @param published how many there are
     */
    public record Met(int met, int published) {}

    /** What a change amounts to. Worsening mirrors improvement: our convention. */
    public enum Verdict {
        IMPORTANT_IMPROVEMENT,
        IMPROVEMENT_WITHIN_ERROR,
        NO_IMPORTANT_CHANGE,
        WORSENING_WITHIN_ERROR,
        IMPORTANT_WORSENING,
        NOT_ASSESSABLE;

        /** The code in files, such as {@code important-improvement}. */
        public String code() {
            return name().toLowerCase(Locale.ROOT).replace('_', '-');
        }
    }
}
