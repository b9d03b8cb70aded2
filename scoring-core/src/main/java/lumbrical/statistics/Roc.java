package lumbrical.statistics;

import java.util.Arrays;

/** Every threshold of a curve, with what it tells. */
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

    /** Sweeps the mid-points between neighbouring values that occur. At least one case improved and one did not. */
    Roc(double[] values, int[] improved, int[] all) {
        thresholds = new double[values.length];
        sensitivities = new double[values.length];
        specificities = new double[values.length];
        int allImproved = Arrays.stream(improved).sum();
        int allOthers = Arrays.stream(all).sum() - allImproved;
        int improvedBelow = 0;
        int othersBelow = 0;
        double previous = 0;
        double pairs = 0;
        for (int i = 0; i < values.length; i++) {
            int others = all[i] - improved[i];
            if (all[i] == 0) {
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
            pairs += improved[i] * (othersBelow + others / 2.0);
            improvedBelow += improved[i];
            othersBelow += others;
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
