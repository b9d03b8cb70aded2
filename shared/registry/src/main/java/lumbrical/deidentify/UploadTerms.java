package lumbrical.deidentify;

import lumbrical.threshold.ThresholdChoice;

/**
 * On what terms data leave.
 *
 * @param profile what may leave
 * @param sender where it comes from and what it is for
 * @param pseudonyms names for patients and episodes
 * @param thresholds the thresholds that changes were set against; where the condition of an episode does not leave, its changes are set
 *     against those for any condition, since a threshold of one condition would tell it
 * @param smallestCell the smallest group of people alike in what is sent of the person
 * @param coarsen whether values are left blank until no group is smaller
 */
public record UploadTerms(
        Profile profile,
        Sender sender,
        Pseudonyms pseudonyms,
        ThresholdChoice thresholds,
        int smallestCell,
        boolean coarsen) {
    /** With the definitions' thresholds and the profile's smallest group; nothing is left blank. */
    public static UploadTerms of(Profile profile, Sender sender, Pseudonyms pseudonyms) {
        return new UploadTerms(profile, sender, pseudonyms, ThresholdChoice.DEFAULTS, profile.smallCell(), false);
    }

    /** The same with other thresholds. */
    public UploadTerms withThresholds(ThresholdChoice other) {
        return new UploadTerms(profile, sender, pseudonyms, other, smallestCell, coarsen);
    }

    /** The same with another smallest group. */
    public UploadTerms withSmallestCell(int k) {
        return new UploadTerms(profile, sender, pseudonyms, thresholds, k, coarsen);
    }

    /** The same, and values are left blank until no group is too small. */
    public UploadTerms withCoarsening() {
        return new UploadTerms(profile, sender, pseudonyms, thresholds, smallestCell, true);
    }
}
