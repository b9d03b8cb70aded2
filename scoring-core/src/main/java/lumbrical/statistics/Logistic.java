package lumbrical.statistics;

/**
 * Fits {@code logit P(event) = a + b t} to counts at ascending values, by Newton's steps (iteratively reweighted least squares; McCullagh
 * and Nelder 1989). A step that overshoots is halved: the likelihood has one peak, so that a slope along the step which has turned by more
 * than half its size says that the peak was passed.
 *
 * <p>Fits of many resamples of one sample lie near one another. Once a fit is {@link #startHere kept}, the next ones begin where the
 * likelihood, expanded around it to the fourth order, has its peak: that takes sums only, and leaves one or two of Newton's steps to do; or
 * none, where the last digits may be off, by no more than is {@link #off known}.
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

    /** A peak of the expansion surely no farther than this from the likelihood's, in log odds, may stand for it. */
    private static final double NEAR_ENOUGH = 1e-3;

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

    /** How far the peak may be from a and b, in the norm of the information at the start; 0 after Newton's steps. */
    private double distance;

    private double information00;
    private double information01;
    private double information11;

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
     * At most how far the value at which the line reaches these log odds is from that of the exact fit, beyond the last digits. There the
     * exact line differs by at most the distance of the peaks times the root of the leverage.
     */
    double off(double logOdds) {
        if (distance == 0) {
            return 0;
        }
        double determinant = information00 * information11 - information01 * information01;
        double flattest = Math.abs(b) - distance * Math.sqrt(information00 / determinant);
        double t = (logOdds - a) / b;
        double fromMean = t - information01 / information00;
        double leverage = 1 / information00 + information00 * fromMean * fromMean / determinant;
        return flattest > 0 ? scale * distance * Math.sqrt(leverage) / flattest : Double.POSITIVE_INFINITY;
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
        distance = 0;
        if (started && begin(events, all) && quick && isNearEnough()) {
            return true;
        }
        distance = 0;
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

    /**
     * Whether the peak of the expansion, where the line is now, may stand for that of the likelihood.
     *
     * <p>Let D be the largest change of the log odds from the start. The expansion leaves out of each probability at most
     * {@code e^D D^4 / 24} of its weight {@code w = p (1 - p)} at the start: the fourth derivative of p is at most w, and w changes at most by
     * the factor {@code e^D}. In the norm of the information at the start the score left over is therefore at most that times
     * {@code sqrt(sum w)}, a projection being no longer than what it projects. From here to the peak the information is at least
     * {@code e^-(D + d)} of that at the start, where d is the change of the log odds on the way, so that the way is at most
     * {@code e^(D + d)} times as long as the score left over; d is at most this way times the root of the largest leverage. Derived here.
     */
    private boolean isNearEnough() {
        double change = Math.abs(a - startA) + Math.abs(b - startB);
        double determinant = information00 * information11 - information01 * information01;
        double leverage = (information00 + 2 * Math.abs(information01) + information11) / determinant;
        double square = change * change;
        distance = Math.exp(2 * change + 2 * NEAR_ENOUGH) * square * square / 24 * Math.sqrt(information00);
        return distance * Math.sqrt(leverage) <= NEAR_ENOUGH;
    }

    /** Moves to the peak of the expansion around the start, if that is near; tells whether it is. */
    private boolean begin(int[] events, int[] all) {
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
                return false;
            }
            double du = (h11 * g0 - h01 * g1) / determinant;
            double dv = (h00 * g1 - h01 * g0) / determinant;
            u += du;
            v += dv;
            if (!(Math.abs(u) + Math.abs(v) < NEAR)) {
                return false;
            }
            if (Math.abs(du) + Math.abs(dv) <= TO_THE_LAST_DIGIT) {
                a += u;
                b += v;
                information00 = s2;
                information01 = s3;
                information11 = s4;
                return true;
            }
        }
        return false;
    }
}
