package lumbrical.statistics;

import java.util.Arrays;
import lumbrical.instrument.Range;
import lumbrical.statistics.Estimate.Reason;

/**
 * How far the items of a scale measure one thing: Cronbach's alpha {@code k / (k - 1) · (1 - Σ item variances / variance of the sum)}
 * (Cronbach 1951, Psychometrika 16:297-334), of complete forms.
 */
public final class InternalConsistency {
    /** {@code items[j][i]}: item j of form i. */
    private final double[][] items;

    private final int forms;
    /** Of each form the sum of all items. */
    private final double[] sums;
    /** Of each item; 0 of fewer than two forms. */
    private final double[] variances;

    private InternalConsistency(double[][] items, int forms) {
        this.items = items;
        this.forms = forms;
        this.sums = new double[forms];
        this.variances = new double[items.length];
        for (int j = 0; j < items.length; j++) {
            for (int i = 0; i < forms; i++) {
                sums[i] += items[j][i];
            }
            double sd = forms < 2 ? 0 : Means.sdOf(items[j]);
            variances[j] = sd * sd;
        }
    }

    /**
     * Of complete forms, one row each with one response per item, all items pointing the same way (reversed items reversed before).
     *
     * @throws IllegalArgumentException if a response is not finite or the rows differ in length
     */
    public static InternalConsistency of(double[][] forms) {
        return new InternalConsistency(Retest.columns(forms), forms.length);
    }

    /** Cronbach's alpha, at most 1; not estimable of fewer than two items or forms, or if the sums do not differ. */
    public Estimate<Double> alpha() {
        return alphaOf(sums, Arrays.stream(variances).sum(), items.length);
    }

    /**
     * The 95 % interval of alpha: {@code 1 - (1 - alpha) F} with F at 0.975 and at 0.025, n - 1 and (n - 1)(k - 1) degrees of freedom
     * (Feldt 1965, Psychometrika 30:357-370). Not estimable where alpha is not, nor at alpha 1.
     */
    public Estimate<Range> alphaInterval95() {
        return alpha().flatMap(alpha -> {
            if (1 - alpha <= Values.SLACK) {
                return Estimate.none(Reason.NO_SPREAD);
            }
            double n1 = forms - 1.0;
            double n2 = n1 * (items.length - 1);
            return Estimate.of(new Range(
                    1 - (1 - alpha) * Distributions.f(0.975, n1, n2),
                    1 - (1 - alpha) * Distributions.f(0.025, n1, n2)));
        });
    }

    /**
     * Alpha of the items but {@code item}, counted from 0.
     *
     * @throws IndexOutOfBoundsException if there is no such item
     */
    public Estimate<Double> alphaWithout(int item) {
        double rest = 0;
        for (int j = 0; j < items.length; j++) {
            rest += j == item ? 0 : variances[j];
        }
        return alphaOf(sumsWithout(item), rest, items.length - 1);
    }

    /**
     * Pearson's correlation of {@code item}, counted from 0, with the sum of the others, from -1 to 1.
     *
     * @throws IndexOutOfBoundsException if there is no such item
     */
    public Estimate<Double> itemRest(int item) {
        double[] own = items[item];
        return items.length == 1 ? Estimate.none(Reason.TOO_FEW_ITEMS) : Correlation.pearson(own, sumsWithout(item));
    }

    private Estimate<Double> alphaOf(double[] sumsOfItems, double sumOfVariances, int k) {
        if (forms == 0) {
            return Estimate.none(Reason.NO_VALUES);
        }
        if (k < 2) {
            return Estimate.none(Reason.TOO_FEW_ITEMS);
        }
        return Means.sd(sumsOfItems).map(sd -> k / (k - 1.0) * (1 - sumOfVariances / (sd * sd)));
    }

    private double[] sumsWithout(int item) {
        double[] rest = sums.clone();
        for (int i = 0; i < forms; i++) {
            rest[i] -= items[item][i];
        }
        return rest;
    }
}
