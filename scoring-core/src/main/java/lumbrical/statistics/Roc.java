package lumbrical.statistics;

/** One pass over the thresholds; a workspace that is filled anew for each resample. */
final class Roc {
    /** Criteria no further apart count as tied. Ours, as in the reference computation. */
    static final double TIED = 1e-12;

    final double[] thresholds;
    final double[] sensitivities;
    final double[] specificities;
    int size;
    int bestYouden;
    int bestCorner;
    double auc;

    /** @param values how many distinct values there can be */
    Roc(int values) {
        thresholds = new double[values];
        sensitivities = new double[values];
        specificities = new double[values];
    }

    /** Sweeps the mid-points between neighbouring values that occur. At least one case improved and one did not. */
    void sweep(double[] values, int[] improved, int[] others, int allImproved, int allOthers) {
        size = 0;
        bestYouden = 0;
        bestCorner = 0;
        int improvedBelow = 0;
        int othersBelow = 0;
        double previous = 0;
        double pairs = 0;
        for (int i = 0; i < values.length; i++) {
            if (improved[i] + others[i] == 0) {
                continue;
            }
            if (improvedBelow + othersBelow > 0) {
                thresholds[size] = (previous + values[i]) / 2;
                sensitivities[size] = (double) (allImproved - improvedBelow) / allImproved;
                specificities[size] = (double) othersBelow / allOthers;
                if (youden(size) > youden(bestYouden) + TIED) {
                    bestYouden = size;
                }
                if (corner(size) < corner(bestCorner) - TIED) {
                    bestCorner = size;
                }
                size++;
            }
            pairs += improved[i] * (othersBelow + others[i] / 2.0);
            improvedBelow += improved[i];
            othersBelow += others[i];
            previous = values[i];
        }
        auc = pairs / ((double) allImproved * allOthers);
    }

    /** Whether a threshold tells the improved from the others better than chance. */
    boolean informative() {
        return size > 0 && youden(bestYouden) > TIED;
    }

    double youden(int i) {
        return sensitivities[i] + specificities[i] - 1;
    }

    double corner(int i) {
        double missed = 1 - sensitivities[i];
        double wrong = 1 - specificities[i];
        return missed * missed + wrong * wrong;
    }
}
