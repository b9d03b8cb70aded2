package lumbrical.columns;

import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.function.Function;
import lumbrical.cohort.CohortGroup;
import lumbrical.cohort.McidUsed;
import lumbrical.cohort.RowPlace;
import lumbrical.cohort.Share;
import lumbrical.instrument.Range;
import lumbrical.output.OutputColumn;
import lumbrical.output.Value;
import lumbrical.statistics.Estimate;

/** What the tables of group results have in common: the columns that say what a row is about, and how a value is written. */
final class CohortKeys {
    private CohortKeys() {}

    /** Group, instrument, scale and visit. */
    static <R> List<OutputColumn<R>> of(Function<R, RowPlace> at) {
        List<OutputColumn<R>> c = new ArrayList<>(group(r -> at.apply(r).group()));
        c.add(OutputColumn.text(
                "instrument",
                "Instrument id",
                r -> Value.word(at.apply(r).instrument().id().value())));
        c.add(OutputColumn.text(
                "scale", "Scale id", r -> Value.word(at.apply(r).scale().id().value())));
        c.add(OutputColumn.text(
                "visit",
                "Visit of the schedule",
                r -> at.apply(r).visit().map(v -> Value.text(v.name())).orElse(Value.BLANK)));
        return c;
    }

    /** The group alone. */
    static <R> List<OutputColumn<R>> group(Function<R, CohortGroup> of) {
        return List.of(
                OutputColumn.text(
                        "group_by",
                        "Column of the episodes by which they are grouped; several joined by +; all = all together",
                        r -> Value.text(of.apply(r).by())),
                OutputColumn.text(
                        "group",
                        "The group's value; conditions by their label, several joined by ' / ', (blank) = none",
                        r -> Value.text(of.apply(r).label())));
    }

    static Value value(Estimate<Double> estimate) {
        return estimate.fold(Value::number, reason -> Value.BLANK);
    }

    static Value low(Estimate<Range> interval) {
        return low(interval.optional());
    }

    static Value high(Estimate<Range> interval) {
        return high(interval.optional());
    }

    static Value low(Optional<Range> interval) {
        return interval.map(r -> Value.number(r.low())).orElse(Value.BLANK);
    }

    static Value high(Optional<Range> interval) {
        return interval.map(r -> Value.number(r.high())).orElse(Value.BLANK);
    }

    static Value percent(Share share) {
        return share.percent().map(Value::number).orElse(Value.BLANK);
    }

    /** Where an MCID comes from, or that each episode has its own. */
    static Value source(McidUsed mcid) {
        return Value.word(mcid.threshold().map(ChangeColumns::cite).orElse("each-episodes-own"));
    }
}
