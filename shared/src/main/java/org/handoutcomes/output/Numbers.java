package org.handoutcomes.output;

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
        if (!Double.isFinite(value)) {
            throw new IllegalArgumentException(value + " is no number to print");
        }
        if (Math.abs(value) >= EXACT) {
            String plain = new BigDecimal(value)
                    .setScale(6, RoundingMode.HALF_UP)
                    .stripTrailingZeros()
                    .toPlainString();
            text.append(plain);
            return;
        }
        long millionths = Math.round(Math.abs(value) * MILLION);
        if (value < 0 && millionths > 0) {
            text.append('-');
        }
        text.append(millionths / MILLION);
        long fraction = millionths % MILLION;
        if (fraction != 0) {
            text.append('.');
            long unit = MILLION / 10;
            while (fraction != 0) {
                text.append((char) ('0' + fraction / unit));
                fraction %= unit;
                unit /= 10;
            }
        }
    }
}
