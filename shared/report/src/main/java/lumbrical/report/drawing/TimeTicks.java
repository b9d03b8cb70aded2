package lumbrical.report.drawing;

import java.util.ArrayList;
import java.util.List;

/** Marks of an axis of days: weeks, months or years from the treatment, whichever leaves room for their texts. */
final class TimeTicks {
    private static final double MONTH = 365.25 / 12;

    private TimeTicks() {}

    /** @param day days from the treatment */
    record Tick(double day, String text) {}

    private enum Step {
        WEEK(7, 1, "w"),
        TWO_WEEKS(7, 2, "w"),
        MONTH_(MONTH, 1, "m"),
        THREE_MONTHS(MONTH, 3, "m"),
        SIX_MONTHS(MONTH, 6, "m"),
        YEAR(365.25, 1, "y"),
        TWO_YEARS(365.25, 2, "y"),
        FIVE_YEARS(365.25, 5, "y"),
        TWENTY_YEARS(365.25, 20, "y"),
        CENTURIES(365.25, 100, "y");

        private final double unit;
        private final int count;
        private final String letter;

        Step(double unit, int count, String letter) {
            this.unit = unit;
            this.count = count;
            this.letter = letter;
        }

        double days() {
            return unit * count;
        }
    }

    /** The marks from day 0 to {@code last}, at most {@code most} besides the 0. */
    static List<Tick> until(double last, int most) {
        Step step = Step.CENTURIES;
        for (Step candidate : Step.values()) {
            if (last / candidate.days() <= most) {
                step = candidate;
                break;
            }
        }
        List<Tick> ticks = new ArrayList<>(List.of(new Tick(0, "0")));
        for (int n = 1; n * step.days() <= last && n <= most; n++) {
            ticks.add(new Tick(n * step.days(), n * step.count + " " + step.letter));
        }
        return ticks;
    }
}
