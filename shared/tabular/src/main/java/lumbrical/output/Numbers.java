package lumbrical.output;

import java.math.BigDecimal;
import java.math.RoundingMode;

/** Prints numbers: a decimal point, at most six decimals, no zeros at the end, no exponent, no negative zero. */
public final class Numbers {
    private static final double EXACT = 1e9;
    private static final long MILLION = 1_000_000;

    private Numbers() {}

    /**
     * The number as text; half away from zero at the sixth decimal.
     *
     * @throws IllegalArgumentException if {@code value} is not finite
     */
    public static String format(double value) {
        StringBuilder text = new StringBuilder(12);
        append(value, text);
        return text.toString();
    }

    /**
     * Appends the number to {@code text}.
     *
     * @throws IllegalArgumentException if {@code value} is not finite
     */
    public static void append(double value, StringBuilder text) {
        byte[] digits = new byte[24];
        int end = print(value, digits, 0);
        if (end >= 0) {
            for (int i = 0; i < end; i++) {
                text.append((char) digits[i]);
            }
            return;
        }
        text.append(new BigDecimal(value)
                .setScale(6, RoundingMode.HALF_UP)
                .stripTrailingZeros()
                .toPlainString());
    }

    /** Prints into {@code to} at {@code at}; the end, or -1 if the number is too large for this way. */
    public static int print(double value, byte[] to, int at) {
        if (!Double.isFinite(value)) {
            throw new IllegalArgumentException(value + " is no number to print");
        }
        if (Math.abs(value) >= EXACT) {
            return -1;
        }
        long millionths = Math.round(Math.abs(value) * MILLION);
        int end = at;
        if (value < 0 && millionths > 0) {
            to[end++] = '-';
        }
        long whole = millionths / MILLION;
        int digits = 1;
        for (long rest = whole / 10; rest != 0; rest /= 10) {
            digits++;
        }
        for (int i = end + digits - 1; i >= end; i--) {
            to[i] = (byte) ('0' + whole % 10);
            whole /= 10;
        }
        end += digits;
        int fraction = (int) (millionths % MILLION);
        if (fraction != 0) {
            to[end++] = '.';
            for (int unit = (int) MILLION / 10; fraction != 0; unit /= 10) {
                to[end++] = (byte) ('0' + fraction / unit);
                fraction %= unit;
            }
        }
        return end;
    }
}
