package lumbrical.workbook;

import lumbrical.instrument.Direction;
import lumbrical.instrument.Scale;

/** A course as a row of small bars made of text, which every spreadsheet shows and prints. Higher is better. */
final class Sparkline {
    private static final String BARS = "\u2581\u2582\u2583\u2584\u2585\u2586\u2587\u2588";
    private static final char NONE = '\u00B7';

    private Sparkline() {}

    /**
     * One sign for each score.
     *
     * @param scores scores within the scale's range, NaN = none
     */
    static String of(Scale scale, double[] scores) {
        StringBuilder picture = new StringBuilder(scores.length);
        for (double score : scores) {
            picture.append(Double.isNaN(score) ? NONE : BARS.charAt(step(share(scale, score))));
        }
        return picture.toString();
    }

    private static int step(double share) {
        return (int) Math.min(BARS.length() - 1, Math.floor(share * BARS.length()));
    }

    /** From 0, the worst possible score, to 1, the best. */
    static double share(Scale scale, double score) {
        double low = scale.range().low();
        double high = scale.range().high();
        return (scale.better() == Direction.LOWER ? high - score : score - low) / (high - low);
    }
}
