package lumbrical.threshold;

/** Whether a change reaches a threshold. */
public final class Reached {
    /**
     * Slack for sums that are equal by arithmetic and differ in the last bits of a double, far below any score's step. Ours.
     */
    private static final double SLACK = 1e-9;

    private Reached() {}

    /** Whether {@code amount} is at least {@code threshold}; equal counts as reached. */
    public static boolean meets(double amount, double threshold) {
        return amount >= threshold - SLACK;
    }
}
