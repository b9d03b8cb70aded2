package lumbrical.statistics;

/**
 * The best thresholds of counts at ascending values, in one pass. Thresholds lie between neighbouring values that occur; where none of
 * several values occurs, the first stands for them, for its criteria are the same. A workspace, filled anew for each resample.
 */
final class CutOffs {
    private int youden;
    private int corner;

    /**
     * Looks for them.
     *
     * @return whether a threshold tells the improved from the others better than chance
     */
    boolean find(int[] improved, int[] all, int allImproved, int allOthers) {
        double perImproved = 1.0 / allImproved;
        double perOther = 1.0 / allOthers;
        int improvedBelow = 0;
        int othersBelow = 0;
        long bestYouden =
                0; // sensitivity + specificity - 1, times all improved and all others: whole numbers do not tie by
        // rounding
        double bestCorner = 1; // of the thresholds below and above all values
        youden = 0;
        corner = 0;
        for (int i = 1; i < all.length; i++) {
            improvedBelow += improved[i - 1];
            othersBelow += all[i - 1] - improved[i - 1];
            long gain = (long) othersBelow * allImproved - (long) improvedBelow * allOthers;
            if (gain > bestYouden) {
                bestYouden = gain;
                youden = i;
            }
            double missed = improvedBelow * perImproved;
            double wrong = (allOthers - othersBelow) * perOther;
            double distance = missed * missed + wrong * wrong;
            if (distance < bestCorner - Roc.TIED) {
                bestCorner = distance;
                corner = i;
            }
        }
        corner = corner == 0 ? youden : corner;
        return youden > 0;
    }

    /** Position of the first value above the threshold with the largest sensitivity + specificity - 1, once found. */
    int youden() {
        return youden;
    }

    /** Position of the first value above the threshold nearest to the corner, once found. */
    int corner() {
        return corner;
    }
}
