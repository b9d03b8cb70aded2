package lumbrical.change;

import java.util.Locale;
import java.util.OptionalDouble;
import lumbrical.threshold.Reached;

/** What a change amounts to: measurement error and what patients call important, together. The codes are written to files. */
public enum Verdict {
    IMPORTANT_IMPROVEMENT("important improvement"),
    IMPROVEMENT_WITHIN_ERROR("improved by the MCID, but within measurement error"),
    SMALL_IMPROVEMENT("real improvement, smaller than the MCID"),
    NO_IMPORTANT_CHANGE("no important change"),
    SMALL_WORSENING("real worsening, smaller than the MCID"),
    WORSENING_WITHIN_ERROR("worsened by the MCID, but within measurement error"),
    IMPORTANT_WORSENING("important worsening"),
    NOT_ASSESSABLE("not assessable");

    private final String words;

    Verdict(String words) {
        this.words = words;
    }

    /** The code in files, such as {@code important-improvement}. */
    public String code() {
        return name().toLowerCase(Locale.ROOT).replace('_', '-');
    }

    /** As people read it. */
    public String words() {
        return words;
    }

    /**
     * The verdict on an improvement. Worsening mirrors improvement: our convention. Without an MDC a change that reaches the MCID
     * counts as beyond error, and no smaller one does.
     *
     * @param improvement positive when the person got better
     * @param mcid smallest improvement that matters, greater than 0
     * @param mdc smallest change beyond measurement error, if known
     */
    public static Verdict of(double improvement, double mcid, OptionalDouble mdc) {
        boolean beyondError = mdc.isPresent() && Reached.meets(Math.abs(improvement), mdc.getAsDouble());
        boolean errorNoObstacle = mdc.isEmpty() || beyondError;
        if (Reached.meets(improvement, mcid)) {
            return errorNoObstacle ? IMPORTANT_IMPROVEMENT : IMPROVEMENT_WITHIN_ERROR;
        } else if (Reached.meets(-improvement, mcid)) {
            return errorNoObstacle ? IMPORTANT_WORSENING : WORSENING_WITHIN_ERROR;
        } else if (beyondError) {
            return improvement > 0 ? SMALL_IMPROVEMENT : SMALL_WORSENING;
        }
        return NO_IMPORTANT_CHANGE;
    }
}
