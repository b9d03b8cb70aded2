package lumbrical.intake;

import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import java.util.OptionalDouble;
import lumbrical.catalogue.Catalogue;
import lumbrical.followup.Schedule;
import lumbrical.followup.Visit;
import lumbrical.instrument.InstrumentId;
import lumbrical.problem.Remedy;
import lumbrical.tabular.Cells;
import lumbrical.tabular.Input;
import lumbrical.tabular.SimpleTable;
import lumbrical.tabular.UnreadableInputException;

/** Reads a schedule: {@code visit,target_day,from_day,to_day,role} and optionally {@code forms} and {@code verdict}. */
public final class ScheduleReader {
    private ScheduleReader() {}

    /** @throws UnreadableInputException if the file cannot be read or anything in it is wrong; a schedule is used whole or not at all */
    public static Schedule read(Input input, Catalogue catalogue) {
        SimpleTable table =
                SimpleTable.read(input, Optional.empty(), List.of("visit", "target_day", "from_day", "to_day", "role"));
        List<Visit> visits = new ArrayList<>();
        for (SimpleTable.Row row : table.rows()) {
            visits.add(visit(row, catalogue));
        }
        try {
            return new Schedule(visits);
        } catch (IllegalArgumentException e) {
            throw new UnreadableInputException(input.place(), e.getMessage() + ". Correct the schedule.");
        }
    }

    private static Visit visit(SimpleTable.Row row, Catalogue catalogue) {
        if (row.get("visit").isEmpty()) {
            throw new UnreadableInputException(row.place().in("visit"), "the visit has no name.");
        }
        String verdict = row.get("verdict").toLowerCase(Locale.ROOT);
        if (!List.of("", "yes", "no").contains(verdict)) {
            throw new UnreadableInputException(row.place().in("verdict"), "write yes or no.");
        }
        try {
            return new Visit(
                    row.get("visit"),
                    day(row, "target_day"),
                    day(row, "from_day"),
                    day(row, "to_day"),
                    role(row),
                    forms(row, catalogue),
                    !verdict.equals("no"));
        } catch (IllegalArgumentException e) {
            throw new UnreadableInputException(row.place(), e.getMessage() + ".");
        }
    }

    private static int day(SimpleTable.Row row, String column) {
        OptionalDouble number = Cells.number(row.get(column));
        if (number.isEmpty()
                || number.getAsDouble() != Math.rint(number.getAsDouble())
                || Math.abs(number.getAsDouble()) > 100_000) {
            throw new UnreadableInputException(
                    row.place().in(column), "write a whole number of days from the index date, such as 42 or -90.");
        }
        return (int) number.getAsDouble();
    }

    private static Visit.Role role(SimpleTable.Row row) {
        return switch (row.get("role").toLowerCase(Locale.ROOT)) {
            case "baseline" -> Visit.Role.BASELINE;
            case "follow-up" -> Visit.Role.FOLLOW_UP;
            default -> throw new UnreadableInputException(row.place().in("role"), "write baseline or follow-up.");
        };
    }

    private static List<InstrumentId> forms(SimpleTable.Row row, Catalogue catalogue) {
        List<InstrumentId> forms = new ArrayList<>();
        for (String id : row.get("forms").toLowerCase(Locale.ROOT).split("[\\s,;]+")) {
            if (!id.isEmpty() && catalogue.find(id).isEmpty()) {
                throw new UnreadableInputException(
                        row.place().in("forms"),
                        "'" + Cells.printable(id) + "' is no instrument. Correct the id.",
                        List.of(Remedy.of(Remedy.Kind.INSTRUMENTS)));
            }
            if (!id.isEmpty()) {
                forms.add(new InstrumentId(id));
            }
        }
        return forms;
    }
}
