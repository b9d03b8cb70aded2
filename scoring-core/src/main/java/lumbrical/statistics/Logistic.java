package lumbrical.statistics;

/**
 * Fits {@code logit P(event) = a + b t} to counts at ascending values, by Newton's steps (iteratively reweighted least squares; McCullagh
 * and Nelder 1989). A step that overshoots is halved: the likelihood has one peak, so that a slope along the step which has turned by more
 * than half its size says that the peak was passed.
 */
final class Logistic {
    private static final int STEPS = 100;

    /** A step this small, squared by the next, is below the last digit. */
    private static final double SMALL = 1e-8;

    private final double[] values;
    private final double centre;
    private final double scale;
    private double startA;
    private double startB;
    private double a;
    private double b;

    /** @param values the values that can occur, ascending; two at least where it is to fit */
    Logistic(double[] values) {
        double low = values.length == 0 ? 0 : values[0];
        double high = values.length == 0 ? 0 : values[values.length - 1];
        this.values = values;
        this.centre = low / 2 + high / 2;
        this.scale = high / 2 - low / 2;
    }

    /** Lets later fits start where the last one ended. */
    void startHere() {
        startA = a;
        startB = b;
    }

    double slope() {
        return b / scale;
    }

    double intercept() {
        return a - b * centre / scale;
    }

    /** Fits; false if the likelihood has no peak within reach. */
    boolean fit(int[] events, int[] others) {
        a = startA;
        b = startB;
        double da = 0;
        double db = 0;
        double before = 0;
        for (int step = 0; step < STEPS; step++) {
            double g0 = 0;
            double g1 = 0;
            double h00 = 0;
            double h01 = 0;
            double h11 = 0;
            for (int i = 0; i < values.length; i++) {
                int n = events[i] + others[i];
                if (n > 0) {
                    double t = (values[i] - centre) / scale;
                    double p = 1 / (1 + Math.exp(-a - b * t));
                    double w = n * p * (1 - p);
                    double residual = events[i] - n * p;
                    g0 += residual;
                    g1 += residual * t;
                    h00 += w;
                    h01 += w * t;
                    h11 += w * t * t;
                }
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
            if (Math.abs(da) + Math.abs(db) <= SMALL * (1 + Math.abs(a) + Math.abs(b))) {
                return true;
            }
        }
        return false;
    }
}
