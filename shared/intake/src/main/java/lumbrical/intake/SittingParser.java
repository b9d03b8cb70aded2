package lumbrical.intake;

import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.function.Consumer;
import lumbrical.instrument.Side;
import lumbrical.problem.Place;
import lumbrical.problem.Problem;
import lumbrical.problem.ProblemCode;
import lumbrical.sitting.Sitting;
import lumbrical.tabular.Cells;
import lumbrical.tabular.Dates;

/** Reads patient, date and side of a row, or rejects it with the reason. */
final class SittingParser {
    /** Texts kept once each, such as ids and modes; a bound keeps hostile input from filling the memory. */
    private static final int MAX_SHARED = 100_000;

    /** What a spreadsheet shows where a formula failed. */
    private static final Set<String> SHEET_ERRORS =
            Set.of("#N/A", "#REF!", "#VALUE!", "#DIV/0!", "#NAME?", "#NUM!", "#NULL!");

    private final ReadOptions options;
    private final Dates dates;
    private final Consumer<Problem> problems;
    private final Map<String, String> shared = new HashMap<>();

    SittingParser(ReadOptions options, Consumer<Problem> problems) {
        this.options = options;
        this.dates = Dates.of(options.dateFormat());
        this.problems = problems;
    }

    /** The sitting, or empty and a problem if the row is rejected. */
    Optional<Sitting> parse(ResponseHeader header, List<String> cells, Place place) {
        String patient = header.cell(cells, "patient");
        if (patient.isEmpty() || SHEET_ERRORS.contains(patient)) {
            problem(
                    place.in("patient"),
                    patient,
                    ProblemCode.PATIENT_MISSING,
                    "The row is rejected. Fill in the patient's id.");
            return Optional.empty();
        }
        String date = header.cell(cells, "completed_on");
        if (date.isEmpty()) {
            problem(
                    place.in("completed_on"),
                    "",
                    ProblemCode.DATE_MISSING,
                    "The row is rejected. Fill in the day on which the form was completed.");
            return Optional.empty();
        }
        Optional<Dates.Moment> moment = dates.parse(date);
        if (moment.isEmpty()) {
            problem(
                    place.in("completed_on"),
                    date,
                    ProblemCode.DATE_NOT_ISO,
                    "The row is rejected. Write the date as 2026-03-09, or name its style with --date-format.");
            return Optional.empty();
        }
        if (moment.get().day().isAfter(options.asOf())) {
            problem(
                    place.in("completed_on"),
                    date,
                    ProblemCode.DATE_IN_FUTURE,
                    "The date is after " + options.asOf()
                            + ". The row is scored but not placed in time. Correct the date.");
        }
        return Optional.of(new Sitting(
                share(patient),
                moment.get().day(),
                moment.get().time(),
                side(header, cells, place),
                optional(header, cells, "episode"),
                optional(header, cells, "mode"),
                optional(header, cells, "respondent"),
                optional(header, cells, "language"),
                place));
    }

    private Optional<Side> side(ResponseHeader header, List<String> cells, Place place) {
        String text = header.cell(cells, "side");
        if (text.isEmpty()) {
            return Optional.empty();
        }
        Optional<Side> side = Side.parse(options.codes().codeOf("side", "side", text));
        if (side.isEmpty()) {
            problem(
                    place.in("side"),
                    text,
                    ProblemCode.SIDE_NOT_KNOWN,
                    "The side is taken as blank. Write right, left or both.");
        }
        return side;
    }

    private Optional<String> optional(ResponseHeader header, List<String> cells, String column) {
        String text = header.cell(cells, column);
        return text.isEmpty() ? Optional.empty() : Optional.of(share(text));
    }

    private String share(String text) {
        if (shared.size() >= MAX_SHARED) {
            shared.clear();
        }
        String known = shared.putIfAbsent(text, text);
        return known == null ? text : known;
    }

    private void problem(Place place, String value, ProblemCode code, String advice) {
        problems.accept(new Problem(place, Cells.printable(value), code, advice));
    }
}
