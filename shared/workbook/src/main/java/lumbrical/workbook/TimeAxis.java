package lumbrical.workbook;

import java.util.List;
import java.util.function.ToIntBiFunction;
import lumbrical.followup.Visit;
import lumbrical.workbook.ScatterCharts.Axis;

/** Time to scale: where a visit stands on an axis of months from the index date. */
final class TimeAxis {
    private static final double DAYS_OF_MONTH = 365.25 / 12;

    private TimeAxis() {}

    /** The visit's target day in months, to one decimal. */
    static double months(Visit visit) {
        return Math.round(10 * visit.targetDay() / DAYS_OF_MONTH) / 10.0;
    }

    /** An axis that takes in all visits and the index date. */
    static Axis of(List<Visit> visits) {
        return new Axis(
                "months from the index date, to scale",
                Math.min(0, Math.floor(day(visits, Math::min, 0) / DAYS_OF_MONTH)),
                Math.max(1, Math.ceil(day(visits, Math::max, 1) / DAYS_OF_MONTH)),
                false);
    }

    private static double day(List<Visit> visits, ToIntBiFunction<Integer, Integer> of, int ifNone) {
        return visits.stream().map(Visit::targetDay).reduce(of::applyAsInt).orElse(ifNone);
    }
}
