package lumbrical.intake;

import java.time.LocalDate;
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
import lumbrical.problem.Remedy;
import lumbrical.sitting.Sitting;
import lumbrical.tabular.Cells;
import lumbrical.tabular.Dates;

/** Reads patient, date and side of a row, or rejects it with the reason. */
final class SittingParser {
    /** Texts kept once each, such as ids and modes; a bound keeps hostile input from filling the memory. */
    private static final int MAX_SHARED = 100_000;

    /** Texts of days that are read once: thirty years of them. */
    private static final int MAX_DAYS = 11_000;

    private static final Dates.Moment NO_MOMENT = new Dates.Moment(Sitting.NO_DAY, Optional.empty());

    private static final String COMPLETED_ON = "completed_on";

    /** What a spreadsheet shows where a formula failed. */
    private static final Set<String> SHEET_ERRORS =
            Set.of("#N/A", "#REF!", "#VALUE!", "#DIV/0!", "#NAME?", "#NUM!", "#NULL!");

    private final ReadOptions options;
    private final Dates dates;
    private final Consumer<Problem> problems;
    private final Map<String, String> shared = new HashMap<>();
    private final Map<String, Optional<Dates.Moment>> days = new HashMap<>();
    private DateStyleCheck style;
    private final LocalDate firstDay;

    SittingParser(ReadOptions options, Consumer<Problem> problems) {
        this.options = options;
        this.dates = Dates.of(options.dateFormat());
        this.problems = problems;
        this.style = new DateStyleCheck(options.dateFormat(), COMPLETED_ON);
        this.firstDay = options.firstPlausibleDay();
    }

    /**
     * The sitting, or empty if the row is rejected; all its faults are told.
     *
     * @param identifier of a form that may do without a date
     */
    Optional<Sitting> parse(ResponseHeader header, List<String> cells, Place place, Optional<String> identifier) {
        Optional<String> patient = patient(header, cells, place);
        Optional<Dates.Moment> moment =
                identifier.isPresent() ? Optional.of(NO_MOMENT) : moment(header, cells, place, patient);
        Optional<Side> side = side(header, cells, place);
        if (patient.isEmpty() || moment.isEmpty()) {
            return Optional.empty();
        }
        return Optional.of(new Sitting(
                share(patient.get()),
                moment.get().day(),
                moment.get().time(),
                side,
                optional(header, cells, "episode"),
                optional(header, cells, "mode"),
                optional(header, cells, "respondent"),
                optional(header, cells, "language"),
                place,
                identifier));
    }

    private Optional<String> patient(ResponseHeader header, List<String> cells, Place place) {
        String patient = header.cell(cells, "patient");
        if (patient.equals(Cells.NOT_CALCULATED)) {
            notCalculated(place.in("patient"), ProblemCode.PATIENT_MISSING, Optional.empty());
            return Optional.empty();
        }
        if (patient.isEmpty() || SHEET_ERRORS.contains(patient)) {
            problem(
                    place.in("patient"),
                    patient,
                    ProblemCode.PATIENT_MISSING,
                    "The row is rejected. Fill in the patient's id.");
            return Optional.empty();
        }
        return Optional.of(patient);
    }

    private void notCalculated(Place place, ProblemCode missing, Optional<String> patient) {
        problem(place, "", ProblemCode.FORMULA_NOT_CALCULATED, FormulaAdvice.ROW_REJECTED);
        problems.accept(
                new Problem(place, "", missing, "The row is rejected, since the cell has no value yet.").of(patient));
    }

    private Optional<Dates.Moment> moment(
            ResponseHeader header, List<String> cells, Place place, Optional<String> patient) {
        String date = header.cell(cells, COMPLETED_ON);
        if (date.equals(Cells.NOT_CALCULATED)) {
            notCalculated(place.in(COMPLETED_ON), ProblemCode.DATE_MISSING, patient);
            return Optional.empty();
        }
        if (date.isEmpty()) {
            problems.accept(new Problem(
                            place.in(COMPLETED_ON),
                            "",
                            ProblemCode.DATE_MISSING,
                            "The row is rejected. Fill in the day on which the form was completed.")
                    .of(patient));
            return Optional.empty();
        }
        Optional<Dates.Moment> moment = read(date);
        style.see(date, moment);
        if (moment.isEmpty()) {
            problems.accept(
                    DateAdvice.problem(place.in(COMPLETED_ON), date, "The row is rejected.", options.dateFormat())
                            .of(patient));
        } else if (moment.get().day().isAfter(options.asOf())) {
            problem(
                    place.in(COMPLETED_ON),
                    date,
                    ProblemCode.DATE_IN_FUTURE,
                    "The date is after " + options.asOf()
                            + ". The row is scored but not placed in time. Correct the date.");
        } else if (moment.get().day().isBefore(firstDay)) {
            problem(
                    place.in(COMPLETED_ON),
                    date,
                    ProblemCode.DATE_LONG_AGO,
                    "The form would have been filled in on " + moment.get().day()
                            + ", about 100 years ago or more. Look at the form and correct the year.");
        }
        return moment;
    }

    /** Many forms are of one day. */
    private Optional<Dates.Moment> read(String date) {
        Optional<Dates.Moment> known = days.get(date);
        if (known == null) {
            if (days.size() >= MAX_DAYS) {
                days.clear();
            }
            known = dates.parse(date);
            days.put(date, known);
        }
        return known;
    }

    /** What is to be told of the dates of a file as a whole; forgets them. */
    void endOfFile(Place file) {
        style.problem(file).ifPresent(problems);
        style = new DateStyleCheck(options.dateFormat(), COMPLETED_ON);
    }

    private Optional<Side> side(ResponseHeader header, List<String> cells, Place place) {
        String text = header.cell(cells, "side");
        if (text.equals(Cells.NOT_CALCULATED)) {
            problem(place.in("side"), "", ProblemCode.FORMULA_NOT_CALCULATED, FormulaAdvice.TAKEN_AS_BLANK);
            return Optional.empty();
        }
        if (text.isEmpty()) {
            return Optional.empty();
        }
        Optional<Side> side = Side.parse(options.codes().codeOf("side", "side", text));
        if (side.isEmpty()) {
            problems.accept(new Problem(
                            place.in("side"),
                            Cells.printable(text),
                            ProblemCode.SIDE_NOT_KNOWN,
                            "The side is taken as blank. Write right, left or both.")
                    .mendedBy(new Remedy(Remedy.Kind.MAP_SIDES, "side," + Cells.printable(text))));
        }
        return side;
    }

    private Optional<String> optional(ResponseHeader header, List<String> cells, String column) {
        String text = header.cell(cells, column);
        return text.isEmpty() || text.equals(Cells.NOT_CALCULATED) ? Optional.empty() : Optional.of(share(text));
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
