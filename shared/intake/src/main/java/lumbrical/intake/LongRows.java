package lumbrical.intake;

import java.util.List;
import java.util.Optional;
import java.util.function.Consumer;
import lumbrical.catalogue.Catalogue;
import lumbrical.document.Nearest;
import lumbrical.instrument.Instrument;
import lumbrical.problem.Place;
import lumbrical.problem.Problem;
import lumbrical.problem.ProblemCode;
import lumbrical.problem.Remedy;
import lumbrical.scoring.Response;
import lumbrical.sitting.Sitting;
import lumbrical.tabular.Cells;

/** What a row of texts of the long layout means. The one place for it, whichever reader split the row. */
public final class LongRows {
    private final Catalogue catalogue;
    private final LongColumns columns;
    private final WideRows wide;
    private final Consumer<Problem> problems;

    /** @param problems takes each fault of a row */
    public LongRows(Catalogue catalogue, ReadOptions options, Consumer<Problem> problems) {
        this(catalogue, new WideRows(options, problems), problems);
    }

    LongRows(Catalogue catalogue, WideRows wide, Consumer<Problem> problems) {
        this.catalogue = catalogue;
        this.columns = new LongColumns(catalogue);
        this.wide = wide;
        this.problems = problems;
    }

    /** The response, or empty if the row is rejected; all its faults are told. */
    public Optional<LongResponse> row(ResponseHeader header, Place place, List<String> cells, WideRows.RowEnd end) {
        Optional<Sitting> sitting = wide.sitting(header, place, cells, Optional.empty(), end);
        Optional<LongColumn> column = column(header, cells, place, sitting.map(Sitting::patient));
        if (column.isEmpty() || sitting.isEmpty()) {
            return Optional.empty();
        }
        Response value = wide.response(
                column.get().instrument(),
                column.get().column().index(),
                header.cell(cells, "response"),
                place,
                column.get().column().name());
        return Optional.of(new LongResponse(sitting.get(), column.get(), value));
    }

    private Optional<LongColumn> column(
            ResponseHeader header, List<String> cells, Place place, Optional<String> patient) {
        String instrument = header.cell(cells, "instrument");
        String item = header.cell(cells, "item");
        Optional<LongColumn> column = columns.find(instrument, item);
        if (column.isEmpty()) {
            String id = LongColumns.name(instrument);
            Optional<Instrument> known = columns.instrument(instrument);
            problems.accept((known.isEmpty() ? noInstrument(id, place) : noItem(id, LongColumns.name(item), place))
                    .of(patient));
        }
        return column;
    }

    private Problem noInstrument(String id, Place place) {
        String meant = Nearest.to(
                        id, catalogue.ids().stream().map(Object::toString).toList())
                .map(n -> " Did you mean " + n + "?")
                .orElse("");
        return new Problem(
                        place.in("instrument"),
                        Cells.printable(id),
                        ProblemCode.INSTRUMENT_NOT_KNOWN,
                        "The row is rejected: no such instrument." + meant)
                .mendedBy(Remedy.of(Remedy.Kind.INSTRUMENTS));
    }

    private static Problem noItem(String id, String item, Place place) {
        return new Problem(
                        place.in("item"),
                        Cells.printable(item),
                        ProblemCode.ITEM_NOT_KNOWN,
                        "The row is rejected: " + id + " has no such item.")
                .mendedBy(new Remedy(Remedy.Kind.INSTRUMENTS, id));
    }
}
