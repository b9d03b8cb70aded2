package lumbrical.statistics;

/**
 * Fits {@code logit P(event) = a + b t} to counts at ascending values, by Newton's steps (iteratively reweighted least squares; McCullagh
 * and Nelder 1989). A step that overshoots is halved: the likelihood has one peak, so that a slope along the step which has turned by more
 * than half its size says that the peak was passed.
 *
 * <p>Fits of many resamples of one sample lie near one another. Once a fit is {@link #startHere kept}, the next ones begin where the
 * likelihood, expanded around it to the fourth order, has its peak: that takes sums only, and leaves one or two of Newton's steps to do.
 */
final class Logistic {
    /** A step this small against the slope, squared by the next, is below the last digit. */
    static final double TO_THE_LAST_DIGIT = 1e-8;

    /** A step this small against the slope, squared by the next, is below the ninth digit: for resamples, whose percentiles are far less sure. */
    static final double FOR_RESAMPLES = 1e-5;

    /** A slope flatter than this, over half the range of the values, counts as this flat when a step is judged. */
    private static final double FLAT = 1e-3;

    private static final int STEPS = 100;

    /** Steps to the peak of the expansion; it is left aside where they do not reach it. */
    private static final int STEPS_OF_EXPANSION = 12;

    /** Farther than this from the start, in log odds, what is made for its neighbourhood is left aside. */
    private static final double NEAR = 2;

    /** Coefficients of each value in the expansion. */
    private static final int ORDERS = 14;

    private final double[] places;
    private final double centre;
    private final double scale;
    /** What each value adds to the sums of the expansion when it occurs once. */
    private final double[] expansion;

    /** The odds of no event at each value, at the start. */
    private final double[] odds;

    private boolean started;
    private boolean quick;
    private double startA;
    private double startB;
    private double a;
    private double b;

    /** @param values the values that can occur, ascending; two at least where it is to fit */
    Logistic(double[] values) {
        double low = values.length == 0 ? 0 : values[0];
        double high = values.length == 0 ? 0 : values[values.length - 1];
        this.centre = low / 2 + high / 2;
        this.scale = high / 2 - low / 2;
        this.places = new double[values.length];
        for (int i = 0; i < places.length; i++) {
            places[i] = (values[i] - centre) / scale;
        }
        this.odds = new double[values.length];
        this.expansion = new double[ORDERS * values.length];
    }

    /**
     * Lets later fits start where the last one ended.
     *
     * @param quickly whether they may take what they can from it; their last digits are off then
     */
    void startHere(boolean quickly) {
        started = true;
        quick = quickly;
        startA = a;
        startB = b;
        for (int i = 0; i < places.length; i++) {
            double t = places[i];
            double p = 1 / (1 + Math.exp(-a - b * t));
            odds[i] = Math.exp(-a - b * t);
            double w = p * (1 - p);
            double second = w * (1 - 2 * p) / 2;
            double third = w * (1 - 6 * w) / 6;
            int at = ORDERS * i;
            at = powers(p, t, 2, at);
            at = powers(w, t, 3, at);
            at = powers(second, t, 4, at);
            powers(third, t, 5, at);
        }
    }

    /**
     * The probability at a value that is {@code d}, in log odds, from the start: of the odds there times {@code e^d}, which is taken as its
     * Padé approximant of degrees 7 and 7, with coefficients {@code (14 - k)! / (k! (7 - k)!)} (from memory). Against 40 digits that is off by
     * less than 1e-11 of itself where {@code d} is from -2 to 2, and by less than the last digit where it is from -1 to 1.
     */
    private double nearStart(int i) {
        double d = a - startA + (b - startB) * places[i];
        double square = d * d;
        double even = 17297280 + square * (1995840 + square * (25200 + square * 56));
        double odd = d * (8648640 + square * (277200 + square * (1512 + square)));
        double up = even + odd;
        return up / (up + odds[i] * (even - odd));
    }

    private int powers(double factor, double t, int count, int from) {
        double power = factor;
        for (int k = 0; k < count; k++) {
            expansion[from + k] = power;
            power *= t;
        }
        return from + count;
    }

    double slope() {
        return b / scale;
    }

    double intercept() {
        return a - b * centre / scale;
    }

    /**
     * Fits until a step is at most {@code precision} of the slope, by which cut-offs are divided; false if the likelihood has no peak within reach.
     *
     * @param events how many events there are at each value
     * @param all how many cases there are at each value
     */
    boolean fit(int[] events, int[] all, double precision) {
        a = startA;
        b = startB;
        if (started) {
            begin(events, all);
        }
        double da = 0;
        double db = 0;
        double before = 0;
        for (int step = 0; step < STEPS; step++) {
            double g0 = 0;
            double g1 = 0;
            double h00 = 0;
            double h01 = 0;
            double h11 = 0;
            boolean near = quick && Math.abs(a - startA) + Math.abs(b - startB) < NEAR;
            for (int i = 0; i < places.length; i++) {
                double t = places[i];
                double p = near ? nearStart(i) : 1 / (1 + Math.exp(-a - b * t));
                double expected = all[i] * p;
                double w = expected * (1 - p);
                double residual = events[i] - expected;
                g0 += residual;
                g1 += residual * t;
                h00 += w;
                double wt = w * t;
                h01 += wt;
                h11 += wt * t;
            }
            if (g0 * da + g1 * db < -before / 2) {
                da /= 2;
                db /= 2;
                before /= 2;
                a -= da;
                b -= db;
                continue;
            }
            double determinant = h00 * h11 - h01 * h01;
            if (!(determinant > 0)) {
                return false;
            }
            da = (h11 * g0 - h01 * g1) / determinant;
            db = (h00 * g1 - h01 * g0) / determinant;
            before = g0 * da + g1 * db;
            a += da;
            b += db;
            if (Math.abs(da) + Math.abs(db) <= precision * Math.max(Math.abs(b), FLAT)) {
                return true;
            }
        }
        return false;
    }

    /** Moves to the peak of the expansion around the start, if that is near. */
    private void begin(int[] events, int[] all) {
        double e0 = 0;
        double e1 = 0;
        double s0 = 0;
        double s1 = 0;
        double s2 = 0;
        double s3 = 0;
        double s4 = 0;
        double s5 = 0;
        double s6 = 0;
        double s7 = 0;
        double s8 = 0;
        double s9 = 0;
        double s10 = 0;
        double s11 = 0;
        double s12 = 0;
        double s13 = 0;
        double[] x = expansion;
        for (int i = 0; i < places.length; i++) {
            double n = all[i];
            double e = events[i];
            int at = ORDERS * i;
            e0 += e;
            e1 += e * places[i];
            s0 += n * x[at];
            s1 += n * x[at + 1];
            s2 += n * x[at + 2];
            s3 += n * x[at + 3];
            s4 += n * x[at + 4];
            s5 += n * x[at + 5];
            s6 += n * x[at + 6];
            s7 += n * x[at + 7];
            s8 += n * x[at + 8];
            s9 += n * x[at + 9];
            s10 += n * x[at + 10];
            s11 += n * x[at + 11];
            s12 += n * x[at + 12];
            s13 += n * x[at + 13];
        }
        double u = 0;
        double v = 0;
        for (int step = 0; step < STEPS_OF_EXPANSION; step++) {
            double uu = u * u;
            double uv = u * v;
            double vv = v * v;
            double h00 = s2 + 2 * (s5 * u + s6 * v) + 3 * (s9 * uu + 2 * s10 * uv + s11 * vv);
            double h01 = s3 + 2 * (s6 * u + s7 * v) + 3 * (s10 * uu + 2 * s11 * uv + s12 * vv);
            double h11 = s4 + 2 * (s7 * u + s8 * v) + 3 * (s11 * uu + 2 * s12 * uv + s13 * vv);
            double g0 = e0
                    - s0
                    - s2 * u
                    - s3 * v
                    - s5 * uu
                    - 2 * s6 * uv
                    - s7 * vv
                    - (s9 * u + 3 * s10 * v) * uu
                    - (3 * s11 * u + s12 * v) * vv;
            double g1 = e1
                    - s1
                    - s3 * u
                    - s4 * v
                    - s6 * uu
                    - 2 * s7 * uv
                    - s8 * vv
                    - (s10 * u + 3 * s11 * v) * uu
                    - (3 * s12 * u + s13 * v) * vv;
            double determinant = h00 * h11 - h01 * h01;
            if (!(h00 > 0 && determinant > 0)) {
                return;
            }
            double du = (h11 * g0 - h01 * g1) / determinant;
            double dv = (h00 * g1 - h01 * g0) / determinant;
            u += du;
            v += dv;
            if (!(Math.abs(u) + Math.abs(v) < NEAR)) {
                return;
            }
            if (Math.abs(du) + Math.abs(dv) <= TO_THE_LAST_DIGIT) {
                a += u;
                b += v;
                return;
            }
        }
    }
}
