package lumbrical.report.html;

import java.util.List;
import lumbrical.instrument.Scale;
import lumbrical.number.Numbers;

/**
 * How numbers of one scale are printed: rounded half away from zero, two decimals on a scale of at most 20 points, else one.
 *
 * @param decimals how many decimals
 */
public record Figures(int decimals) {
    /** A scale so wide or less gets two decimals: ours. */
    private static final double NARROW = 20;
    /** Two numbers no further apart are equal, as where a change is judged. */
    public static final double EQUAL = 1e-9;

    private static final int MOST = 6;

    /** How the scores of this scale are printed. */
    public static Figures of(Scale scale) {
        return new Figures(scale.range().width() <= NARROW ? 2 : 1);
    }

    /** As many decimals as tell {@code value} from each of {@code others} and from zero, unless they are equal. */
    public Figures tellingApart(double value, List<Double> others) {
        Figures figures = this;
        while (figures.decimals < MOST && figures.confuses(value, others)) {
            figures = new Figures(figures.decimals + 1);
        }
        return figures;
    }

    private boolean confuses(double value, List<Double> others) {
        return alike(value, 0) || others.stream().anyMatch(other -> alike(value, other));
    }

    private boolean alike(double a, double b) {
        return Math.abs(a - b) > EQUAL && plain(a).equals(plain(b));
    }

    /** Without zeros at the end, as one says it. */
    public String plain(double value) {
        return Numbers.format(rounded(value));
    }

    /** With all decimals, as it stands in a column. */
    public String fixed(double value) {
        String text = plain(value);
        int dot = text.indexOf('.');
        return dot < 0 ? text + "." + "0".repeat(decimals) : text + "0".repeat(decimals - (text.length() - dot - 1));
    }

    /** {@code 1 point}, {@code 2.5 points}. */
    public String points(double value) {
        String text = plain(value);
        return text + (text.equals("1") ? " point" : " points");
    }

    private double rounded(double value) {
        double unit = Math.pow(10, decimals);
        double magnitude = Math.round(Math.abs(value) * unit) / unit;
        return value < 0 && magnitude > 0 ? -magnitude : magnitude;
    }
}
