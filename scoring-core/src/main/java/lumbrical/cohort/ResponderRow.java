package lumbrical.cohort;

import java.util.OptionalInt;

/**
 * How many of a group improved by an MCID.
 *
 * @param at group, scale and visit
 * @param mcid by which
 * @param used whether it is the one used for this group, rather than another published one
 * @param improved how many of the paired improved by it or more
 * @param worsened how many worsened by it or more
 * @param beyondError how many changed, either way, by the MDC or more; empty if none is known
 * @param couldNotReach how many baselines leave less room than the MCID
 * @param ifMissing what the share would be, were nobody or everybody improved of whom there is no pair
 */
public record ResponderRow(
        RowPlace at,
        McidUsed mcid,
        boolean used,
        Share improved,
        int worsened,
        OptionalInt beyondError,
        int couldNotReach,
        IfMissing ifMissing) {
    /**
     * Shares of all episodes with a baseline score.
     *
     * @param notImproved if none of those without a pair improved
     * @param improved if all of them did
     */
    public record IfMissing(Share notImproved, Share improved) {}
}
