package lumbrical.statistics;

import lumbrical.instrument.Range;
import lumbrical.statistics.Estimate.Reason;

/**
 * Agreement of repeated sittings of stable patients, from the two-way analysis of variance of n patients by k sittings.
 *
 * @param patients n, at least 2
 * @param sittings k of each patient, at least 2
 * @param betweenPatients mean square between patients (MSB)
 * @param betweenSittings mean square between sittings (MSJ)
 * @param residual mean square left over (MSE)
 */
public record Retest(int patients, int sittings, double betweenPatients, double betweenSittings, double residual) {
    /**
     * The analysis of one row per patient with one score per sitting. Not estimable of fewer than two patients or sittings.
     *
     * @throws IllegalArgumentException if a score is not finite or the rows differ in length
     */
    public static Estimate<Retest> of(double[][] scores) {
        double[][] sittings = columns(scores);
        int n = scores.length;
        int k = sittings.length;
        if (n == 0 || k == 0) {
            return Estimate.none(Reason.NO_VALUES);
        }
        if (n == 1 || k == 1) {
            return Estimate.none(Reason.ONE_VALUE);
        }
        double[] patientMeans = new double[n];
        for (int i = 0; i < n; i++) {
            patientMeans[i] = Means.meanOf(scores[i]);
        }
        double mean = Means.meanOf(patientMeans);
        double msb = 0;
        double msj = 0;
        double mse = 0;
        for (int i = 0; i < n; i++) {
            msb += square(patientMeans[i] - mean) * k / (n - 1);
        }
        for (double[] sitting : sittings) {
            double sittingMean = Means.meanOf(sitting);
            msj += square(sittingMean - mean) * n / (k - 1);
            for (int i = 0; i < n; i++) {
                mse += square(sitting[i] - patientMeans[i] - sittingMean + mean) / (n - 1) / (k - 1);
            }
        }
        return Estimate.of(new Retest(n, k, rounded(msb), rounded(msj), rounded(mse)));
    }

    /**
     * ICC(2,1), two-way random, absolute agreement, single sitting: {@code (MSB - MSE) / (MSB + (k - 1) MSE + k (MSJ - MSE) / n)} (Shrout
     * and Fleiss 1979, Psychol Bull 86:420-428). At most 1; below 0 if patients differ less than their own sittings do. Not estimable if no
     * score differs, or if the divisor is 0.
     */
    public Estimate<Double> icc() {
        double all = betweenPatients + (sittings - 1) * residual + sittings * (betweenSittings - residual) / patients;
        if (all > Values.SLACK * (betweenPatients + betweenSittings + residual)) {
            return Estimate.of((betweenPatients - residual) / all);
        }
        return Estimate.none(residual > 0 ? Reason.FORMULA_UNDEFINED : Reason.NO_SPREAD);
    }

    /**
     * The 95 % interval of {@link #icc} after Shrout and Fleiss 1979 (p. 424, with Satterthwaite's degrees of freedom). Not estimable if
     * the sittings agree without any residual.
     */
    public Estimate<Range> iccInterval95() {
        if (residual <= 0) {
            return Estimate.none(Reason.NO_SPREAD);
        }
        return icc().flatMap(icc -> {
            double n = patients;
            double k = sittings;
            double fj = betweenSittings / residual;
            double rest = n * (1 + (k - 1) * icc) - k * icc;
            double freedom =
                    (k - 1) * (n - 1) * square(k * icc * fj + rest) / ((n - 1) * square(k * icc * fj) + square(rest));
            if (!(freedom >= Values.SLACK)) {
                return Estimate.none(Reason.FORMULA_UNDEFINED);
            }
            double upperF = Distributions.f(0.975, n - 1, freedom);
            double lowerF = Distributions.f(0.975, freedom, n - 1);
            double others = k * betweenSittings + (k * n - k - n) * residual;
            double low = n * (betweenPatients - upperF * residual) / (upperF * others + n * betweenPatients);
            double high = n * (lowerF * betweenPatients - residual) / (others + n * lowerF * betweenPatients);
            // False too where the quantile of F is beyond any double.
            return low <= high ? Estimate.of(new Range(low, high)) : Estimate.none(Reason.FORMULA_UNDEFINED);
        });
    }

    /**
     * Standard error of measurement for agreement, in units of the score: {@code √(max(0, (MSJ - MSE) / n) + MSE)}, so a shift between
     * sittings counts as error (Weir 2005, J Strength Cond Res 19:231-240, says when it should). Not estimable if the sittings do not
     * differ.
     */
    public Estimate<Double> semAgreement() {
        return aboveZero(Math.max(0, (betweenSittings - residual) / patients) + residual);
    }

    /**
     * Standard error of measurement for consistency, in units of the score: {@code √MSE}, so a shift between sittings does not count
     * (Weir 2005, J Strength Cond Res 19:231-240). Not estimable if nothing is left over.
     */
    public Estimate<Double> semConsistency() {
        return aboveZero(residual);
    }

    /** The minimal detectable change at 90 % for an error of measurement: {@code z(0.95) √2 SEM} (Beckerman et al. 2001, Qual Life Res 10:571-578). */
    public static double mdc90(double sem) {
        return Distributions.Z95 * Math.sqrt(2) * sem;
    }

    /** The minimal detectable change at 95 % for an error of measurement: {@code z(0.975) √2 SEM} (Beckerman et al. 2001, Qual Life Res 10:571-578). */
    public static double mdc95(double sem) {
        return Distributions.Z975 * Math.sqrt(2) * sem;
    }

    /**
     * The 95 % limits of agreement of two sittings, {@code mean ± z(0.975) SD} of the differences second - first (Bland and Altman 1986,
     * Lancet 1:307-310). Not estimable of fewer than two patients, or if the differences do not differ.
     *
     * @throws IllegalArgumentException if a score is not finite or the arrays differ in length
     */
    public static Estimate<Range> limitsOfAgreement(double[] first, double[] second) {
        Values.requireSameLength(first.length, second.length);
        double[] differences = new double[first.length];
        for (int i = 0; i < first.length; i++) {
            differences[i] = second[i] - first[i];
        }
        return Means.sd(differences).map(sd -> {
            double mean = Means.meanOf(differences);
            return new Range(mean - Distributions.Z975 * sd, mean + Distributions.Z975 * sd);
        });
    }

    /** The columns of a table whose rows are all as long; none if there is no row. */
    static double[][] columns(double[][] rows) {
        double[][] columns = new double[rows.length == 0 ? 0 : rows[0].length][rows.length];
        for (int i = 0; i < rows.length; i++) {
            Values.requireSameLength(columns.length, rows[i].length);
            Values.requireFinite(rows[i]);
            for (int j = 0; j < columns.length; j++) {
                columns[j][i] = rows[i][j];
            }
        }
        return columns;
    }

    private static Estimate<Double> aboveZero(double variance) {
        return variance > 0 ? Estimate.of(Math.sqrt(variance)) : Estimate.none(Reason.NO_SPREAD);
    }

    /** What only the last bits of a double make is nothing. */
    private static double rounded(double meanSquare) {
        return meanSquare <= square(Values.SLACK) ? 0 : meanSquare;
    }

    private static double square(double x) {
        return x * x;
    }
}
