package lumbrical.deidentify;

import java.util.Optional;
import java.util.OptionalDouble;
import lumbrical.followup.Change;
import lumbrical.instrument.Range;
import lumbrical.instrument.Threshold;

/**
 * A change from baseline.
 *
 * @param used whether the follow-up is the one that counts in its window
 * @param baselineKey key of the form that gave the baseline, if that form is sent
 * @param baselineOn day of the baseline
 * @param baseline the baseline's score
 * @param change follow-up minus baseline
 * @param improvement positive when the person got better
 * @param improvementBounds lowest and highest improvement under the bounds of both scores
 * @param mdc the MDC used
 * @param mcid the MCID used
 * @param verdict what the change amounts to
 * @param whyNotAssessable the reason, for {@link Change.Verdict#NOT_ASSESSABLE}
 * @param certain whether the verdict is the same at both ends of the bounds
 * @param pass the PASS used
 * @param acceptableState whether the follow-up reaches the PASS
 */
public record DeidentifiedChange(
        boolean used,
        Optional<String> baselineKey,
        Optional<DeidentifiedDay> baselineOn,
        OptionalDouble baseline,
        OptionalDouble change,
        OptionalDouble improvement,
        Optional<Range> improvementBounds,
        Optional<Threshold> mdc,
        Optional<Threshold> mcid,
        Change.Verdict verdict,
        Optional<String> whyNotAssessable,
        Optional<Boolean> certain,
        Optional<Threshold> pass,
        Optional<Boolean> acceptableState) {}
