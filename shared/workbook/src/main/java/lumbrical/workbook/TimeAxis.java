package lumbrical.workbook;

import java.util.List;
import java.util.function.ToIntBiFunction;
import lumbrical.followup.Visit;
import lumbrical.workbook.ScatterCharts.Axis;

/** Time to scale: where a visit stands on an axis of months from the index date. */
final class TimeAxis {
    private static final double DAYS_OF_MONTH = 365.25 / 12;
    /** A visit some days past a whole number of months counts as on it. */
    private static final double WHOLE = 1.02;

    private TimeAxis() {}

    /** The visit's target day in months, to one decimal. */
    static double months(Visit visit) {
        return Math.round(10 * visit.targetDay() / DAYS_OF_MONTH) / 10.0;
    }

    /** An axis that takes in all visits and the index date, marked every 3, 6 or 12 months by how far it reaches. */
    static Axis of(List<Visit> visits) {
        double first = Math.min(0, day(visits, Math::min, 0) / DAYS_OF_MONTH);
        double last = Math.max(1, day(visits, Math::max, 1) / DAYS_OF_MONTH);
        int step = last <= 12 * WHOLE ? 3 : last <= 36 * WHOLE ? 6 : 12;
        return new Axis(
                "months from the index date, to scale",
                step * Math.floor(first / step),
                step * Math.ceil(last / (step * WHOLE)),
                false,
                step);
    }

    private static double day(List<Visit> visits, ToIntBiFunction<Integer, Integer> of, int ifNone) {
        return visits.stream().map(Visit::targetDay).reduce(of::applyAsInt).orElse(ifNone);
    }
}
