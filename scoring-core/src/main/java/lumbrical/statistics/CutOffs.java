package lumbrical.statistics;

/**
 * The best thresholds of counts at ascending values. Thresholds lie between neighbouring values that occur; where none of several values
 * occurs, the first stands for them, for its criteria are the same. A workspace, filled anew for each resample.
 *
 * <p>Values are gone through by stretches. No threshold in one does better than one with as many improved below it as at the start of the
 * stretch and as many others as at its end would: most stretches are passed over, since that is no better than the best end of a stretch.
 */
final class CutOffs {
    private static final int STRETCH = 16;

    private final int[] improvedAtEnd;
    private final int[] othersAtEnd;
    private int allImproved;
    private int allOthers;
    private double perImproved;
    private double perOther;
    /** Sensitivity + specificity - 1, times all improved and all others: whole numbers do not tie by rounding. */
    private long bestGain;

    private double bestDistance;
    private int youden;
    private int corner;

    /** @param values how many values there are */
    CutOffs(int values) {
        int stretches = (values + STRETCH - 1) / STRETCH;
        improvedAtEnd = new int[stretches];
        othersAtEnd = new int[stretches];
    }

    /**
     * Looks for them.
     *
     * @return whether a threshold tells the improved from the others better than chance
     */
    boolean find(int[] improved, int[] all, int ofImproved, int ofOthers) {
        allImproved = ofImproved;
        allOthers = ofOthers;
        perImproved = 1.0 / allImproved;
        perOther = 1.0 / allOthers;
        bestGain = 0;
        bestDistance = 1; // of the thresholds below and above all values
        youden = 0;
        corner = 0;
        lookAtEnds(improved, all);
        int improvedBelow = 0;
        int othersBelow = 0;
        for (int s = 0; s < improvedAtEnd.length; s++) {
            if (gain(improvedBelow, othersAtEnd[s]) > bestGain
                    || distance(improvedBelow, othersAtEnd[s]) < bestDistance - Roc.TIED) {
                lookThrough(s * STRETCH, improved, all, improvedBelow, othersBelow);
            }
            improvedBelow = improvedAtEnd[s];
            othersBelow = othersAtEnd[s];
        }
        corner = corner == 0 ? youden : corner;
        return youden > 0;
    }

    /** Sets the bar just below the best end of a stretch, so that the first threshold as good as that one takes it. */
    private void lookAtEnds(int[] improved, int[] all) {
        int improvedBelow = 0;
        int casesBelow = 0;
        long best = 0;
        double nearest = 1;
        for (int s = 0; s < improvedAtEnd.length; s++) {
            int end = Math.min((s + 1) * STRETCH, all.length);
            for (int i = s * STRETCH; i < end; i++) {
                improvedBelow += improved[i];
                casesBelow += all[i];
            }
            improvedAtEnd[s] = improvedBelow;
            othersAtEnd[s] = casesBelow - improvedBelow;
            best = Math.max(best, gain(improvedBelow, othersAtEnd[s]));
            nearest = Math.min(nearest, distance(improvedBelow, othersAtEnd[s]));
        }
        bestGain = Math.max(0, best - 1);
        bestDistance = Math.min(1, nearest + 1.5 * Roc.TIED);
    }

    private void lookThrough(int from, int[] improved, int[] all, int improvedBefore, int othersBefore) {
        int improvedBelow = improvedBefore;
        int othersBelow = othersBefore;
        int end = Math.min(from + STRETCH, all.length);
        for (int i = from; i < end; i++) {
            improvedBelow += improved[i];
            othersBelow += all[i] - improved[i];
            long gain = gain(improvedBelow, othersBelow);
            if (gain > bestGain) {
                bestGain = gain;
                youden = i + 1;
            }
            double distance = distance(improvedBelow, othersBelow);
            if (distance < bestDistance - Roc.TIED) {
                bestDistance = distance;
                corner = i + 1;
            }
        }
    }

    private long gain(int improvedBelow, int othersBelow) {
        return (long) othersBelow * allImproved - (long) improvedBelow * allOthers;
    }

    /** Squared, to the corner of sensitivity and specificity 1. */
    private double distance(int improvedBelow, int othersBelow) {
        double missed = improvedBelow * perImproved;
        double wrong = (allOthers - othersBelow) * perOther;
        return missed * missed + wrong * wrong;
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
