package lumbrical.deidentify;

import java.util.Optional;
import lumbrical.change.Change;

/**
 * A change from baseline.
 *
 * @param used whether the follow-up is the one that counts in its window
 * @param baselineKey key of the form that gave the baseline, if that form is sent
 * @param baselineOn day of the baseline
 * @param change what changed and what that amounts to
 */
public record DeidentifiedChange(
        boolean used, Optional<String> baselineKey, Optional<DeidentifiedDay> baselineOn, Change change) {}
