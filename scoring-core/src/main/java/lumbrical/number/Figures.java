package lumbrical.number;

import java.math.BigDecimal;
import java.math.RoundingMode;
import java.util.List;

/**
 * How numbers that people read are printed: so many decimals, rounded half away from zero, and more where two numbers that differ
 * would look alike.
 *
 * @param decimals how many decimals, 0 to 9
 */
public record Figures(int decimals) {
    /** Two numbers no further apart are equal, as where a change is judged. */
    public static final double EQUAL = 1e-9;

    /** A scale so wide or less gets two decimals: ours. */
    private static final double NARROW = 20;

    private static final int MOST = 9;

    /** Numbers that round alike lie at most one unit of the last decimal apart; the rest is for the last bits. */
    private static final double LIKE_AT_MOST = 1.001;

    /**
     * Checks its argument.
     *
     * @throws IllegalArgumentException if {@code decimals} is not 0 to 9
     */
    public Figures {
        if (decimals < 0 || decimals > MOST) {
            throw new IllegalArgumentException(decimals + " decimals, not 0 to " + MOST);
        }
    }

    /** Two decimals for a scale of at most 20 points from end to end, else one. */
    public static Figures ofScaleWidth(double width) {
        return new Figures(width <= NARROW ? 2 : 1);
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
        double apart = Math.abs(a - b);
        return apart > EQUAL && apart < LIKE_AT_MOST * Math.pow(10, -decimals) && plain(a).equals(plain(b));
    }

    /** Without zeros at the end, as one says it. */
    public String plain(double value) {
        BigDecimal rounded = rounded(value);
        return rounded.signum() == 0 ? "0" : rounded.stripTrailingZeros().toPlainString();
    }

    /** With all decimals, as it stands in a column. */
    public String fixed(double value) {
        return rounded(value).toPlainString();
    }

    /** {@code 1 point}, {@code 2.5 points}. */
    public String points(double value) {
        String text = plain(value);
        return text + (text.equals("1") ? " point" : " points");
    }

    private BigDecimal rounded(double value) {
        return BigDecimal.valueOf(value).setScale(decimals, RoundingMode.HALF_UP);
    }
}
