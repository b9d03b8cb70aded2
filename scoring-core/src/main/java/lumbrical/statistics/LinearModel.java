package lumbrical.statistics;

import java.util.Arrays;

/**
 * A least squares line: {@code y = b0 + b1 x1 + ... + error}.
 *
 * <p>Solved by Householder's reflections (Golub 1965, Numer Math 7:206-216), which keep the digits that the normal equations lose.
 */
public final class LinearModel {
    /** A column that keeps less than this share of its length beside the others is a mixture of them; as in general statistics software. */
    private static final double COLLINEAR = 1e-7;

    private final double[] coefficients;
    private final double[] residuals;
    /** The columns of the design, the first all ones. */
    private final double[][] design;
    /** The inverse of X'X. */
    private final double[][] bread;

    private LinearModel(double[] coefficients, double[] residuals, double[][] design, double[][] bread) {
        this.coefficients = coefficients;
        this.residuals = residuals;
        this.design = design;
        this.bread = bread;
    }

    /**
     * Fits {@code y} to a constant and {@code covariates}. Not estimable if there are no more values than coefficients, or if a
     * covariate is a mixture of the constant and those before it.
     *
     * @throws IllegalArgumentException if a value is not finite or the arrays differ in length
     */
    public static Estimate<LinearModel> fit(double[] y, double[]... covariates) {
        int n = y.length;
        int q = covariates.length + 1;
        Values.requireFinite(y);
        double[][] design = new double[q][];
        design[0] = new double[n];
        Arrays.fill(design[0], 1);
        for (int j = 1; j < q; j++) {
            Values.requireSameLength(n, covariates[j - 1].length);
            Values.requireFinite(covariates[j - 1]);
            design[j] = covariates[j - 1].clone();
        }
        if (n <= q) {
            return Estimate.none(n == 0 ? Estimate.Reason.NO_VALUES : Estimate.Reason.TOO_FEW_VALUES);
        }
        double[][] r = new double[q][];
        double[] rotated = y.clone();
        for (int j = 0; j < q; j++) {
            r[j] = design[j].clone();
        }
        for (int j = 0; j < q; j++) {
            double length = length(r[j], j);
            if (length <= COLLINEAR * length(design[j], 0)) {
                return Estimate.none(Estimate.Reason.COLLINEAR);
            }
            double[] mirror = Arrays.copyOfRange(r[j], j, n);
            mirror[0] += r[j][j] < 0 ? -length : length;
            for (int c = j; c < q; c++) {
                reflect(r[c], j, mirror);
            }
            reflect(rotated, j, mirror);
        }
        double[][] inverse = inverseOfUpper(r, q);
        double[] coefficients = new double[q];
        double[][] bread = new double[q][q];
        for (int i = 0; i < q; i++) {
            for (int j = i; j < q; j++) {
                coefficients[i] += inverse[i][j] * rotated[j];
            }
            for (int j = 0; j < q; j++) {
                for (int c = Math.max(i, j); c < q; c++) {
                    bread[i][j] += inverse[i][c] * inverse[j][c];
                }
            }
        }
        double[] residuals = y.clone();
        for (int j = 0; j < q; j++) {
            for (int i = 0; i < n; i++) {
                residuals[i] -= coefficients[j] * design[j][i];
            }
        }
        return Estimate.of(new LinearModel(coefficients, residuals, design, bread));
    }

    /**
     * The difference A - B of mean improvement at equal baseline: the coefficient of A in {@code improvement = b0 + b1 baseline + b2 A}
     * (analysis of covariance). The model is not estimable if a group is empty or the baselines do not differ.
     *
     * @param inA whether a case belongs to A rather than B
     * @return the model whose coefficient 2 is the difference
     * @throws IllegalArgumentException if a value is not finite or the arrays differ in length
     */
    public static Estimate<LinearModel> adjustedForBaseline(double[] improvements, double[] baselines, boolean[] inA) {
        Values.requireSameLength(improvements.length, inA.length);
        double[] a = new double[inA.length];
        int size = 0;
        for (int i = 0; i < a.length; i++) {
            a[i] = inA[i] ? 1 : 0;
            size += inA[i] ? 1 : 0;
        }
        if (size == 0 || size == a.length) {
            return Estimate.none(Estimate.Reason.NO_VALUES);
        }
        Values.requireFinite(baselines);
        if (Values.haveNoSpread(baselines)) {
            return Estimate.none(Estimate.Reason.NO_SPREAD);
        }
        return fit(improvements, baselines, a);
    }

    /** The coefficient {@code j}; 0 is the constant. */
    public double coefficient(int j) {
        return coefficients[j];
    }

    /**
     * The coefficient {@code j} with its 95 % interval from t with n - q degrees of freedom, the errors being independent and equally
     * spread; not estimable if nothing is left over to estimate them from.
     */
    public Estimate<TInterval> interval95(int j) {
        if (exact()) {
            return Estimate.none(Estimate.Reason.NO_SPREAD);
        }
        double freedom = (double) residuals.length - coefficients.length;
        double length = length(residuals, 0);
        return Estimate.of(TInterval.of(coefficients[j], length * Math.sqrt(bread[j][j] / freedom), freedom));
    }

    /**
     * The coefficient {@code j} with its 95 % interval where a patient can have several values: variance {@code c · (X'X)⁻¹ (Σ u u')
     * (X'X)⁻¹} with {@code u = Σ x e} over a patient and {@code c = G / (G - 1) · (n - 1) / (n - q)} (CR1; Liang and Zeger 1986, Biometrika
     * 73:13-22; Cameron and Miller 2015, J Hum Resour 50:317-372, equation 12), t with G - 1 degrees of freedom. Not estimable of one
     * patient, or if nothing is left over.
     *
     * @throws IllegalArgumentException if there is not one patient for each value
     */
    public Estimate<TInterval> clusteredInterval95(int j, Clusters patients) {
        int n = residuals.length;
        Values.requireSameLength(n, patients.size());
        int groups = patients.count();
        if (groups < 2) {
            return Estimate.none(Estimate.Reason.ONE_PATIENT);
        }
        // Row j of (X'X)⁻¹ times each patient's sum, so that no matrix has to be kept.
        double[] sums = new double[groups];
        for (int i = 0; i < n; i++) {
            double weight = 0;
            for (int c = 0; c < coefficients.length; c++) {
                weight += bread[j][c] * design[c][i];
            }
            sums[patients.of(i)] += weight * residuals[i];
        }
        double error = length(sums, 0) * Math.sqrt(groups / (groups - 1.0) * ((n - 1.0) / (n - coefficients.length)));
        if (exact() || error <= Values.SLACK) {
            return Estimate.none(Estimate.Reason.NO_SPREAD);
        }
        return Estimate.of(TInterval.of(coefficients[j], error, groups - 1.0));
    }

    private boolean exact() {
        return Arrays.stream(residuals).allMatch(e -> Math.abs(e) <= Values.SLACK);
    }

    private static double length(double[] values, int from) {
        double sum = 0;
        for (int i = from; i < values.length; i++) {
            sum += values[i] * values[i];
        }
        return Math.sqrt(sum);
    }

    /** Mirrors {@code values} from {@code from} on at the plane across {@code mirror}. */
    private static void reflect(double[] values, int from, double[] mirror) {
        double dot = 0;
        double square = 0;
        for (int i = 0; i < mirror.length; i++) {
            dot += mirror[i] * values[from + i];
            square += mirror[i] * mirror[i];
        }
        for (int i = 0; i < mirror.length; i++) {
            values[from + i] -= 2 * dot / square * mirror[i];
        }
    }

    /** The inverse of the upper triangle whose column {@code j} is the start of {@code columns[j]}. */
    private static double[][] inverseOfUpper(double[][] columns, int q) {
        double[][] inverse = new double[q][q];
        for (int c = 0; c < q; c++) {
            for (int i = c; i >= 0; i--) {
                double sum = i == c ? 1 : 0;
                for (int j = i + 1; j <= c; j++) {
                    sum -= columns[j][i] * inverse[j][c];
                }
                inverse[i][c] = sum / columns[i][i];
            }
        }
        return inverse;
    }
}
