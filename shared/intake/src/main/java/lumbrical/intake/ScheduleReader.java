package lumbrical.intake;

import java.nio.charset.Charset;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.OptionalInt;
import lumbrical.catalogue.Catalogue;
import lumbrical.followup.Schedule;
import lumbrical.followup.Visit;
import lumbrical.instrument.InstrumentId;
import lumbrical.problem.Place;
import lumbrical.problem.Remedy;
import lumbrical.tabular.Cells;
import lumbrical.tabular.Input;
import lumbrical.tabular.SimpleTable;
import lumbrical.tabular.UnreadableInputException;

/** Reads a schedule: {@code visit,target_day,from_day,to_day,role} and optionally {@code forms} and {@code verdict}. */
public final class ScheduleReader {
    private final Catalogue catalogue;
    private final List<Fault> faults = new ArrayList<>();

    private record Fault(Place place, String text, List<Remedy> remedies) {}

    private ScheduleReader(Catalogue catalogue) {
        this.catalogue = catalogue;
    }

    /** As {@link #read(Input, Optional, Catalogue)}, in Unicode. */
    public static Schedule read(Input input, Catalogue catalogue) {
        return read(input, Optional.empty(), catalogue);
    }

    /**
     * The schedule.
     *
     * @param encoding encoding of a CSV file that is not Unicode
     * @throws UnreadableInputException if the file cannot be read or anything in it is wrong, with every fault; a schedule is used whole or
     *     not at all
     */
    public static Schedule read(Input input, Optional<Charset> encoding, Catalogue catalogue) {
        SimpleTable table =
                SimpleTable.readSettings(input, encoding, List.of("visit", "target_day", "from_day", "to_day", "role"));
        ScheduleReader reader = new ScheduleReader(catalogue);
        List<Visit> visits = new ArrayList<>();
        table.rows().forEach(row -> reader.visit(row).ifPresent(visits::add));
        reader.refuseFaults(input);
        try {
            return new Schedule(visits);
        } catch (IllegalArgumentException e) {
            throw new UnreadableInputException(input.place(), e.getMessage() + ". Correct the schedule.");
        }
    }

    private void refuseFaults(Input input) {
        if (faults.size() == 1) {
            Fault only = faults.get(0);
            throw new UnreadableInputException(only.place(), only.text(), only.remedies());
        } else if (!faults.isEmpty()) {
            throw new UnreadableInputException(
                    input.place(),
                    faults.size() + " faults in the schedule; it is not used.\n  "
                            + String.join(
                                    "\n  ",
                                    faults.stream()
                                            .map(fault -> fault.place() + ": " + fault.text())
                                            .toList()),
                    faults.stream()
                            .flatMap(fault -> fault.remedies().stream())
                            .distinct()
                            .toList());
        }
    }

    private void fault(Place place, String text, Remedy... remedies) {
        faults.add(new Fault(place, text, List.of(remedies)));
    }

    /** The visit of a row; empty if anything in it is wrong, all of which is told. */
    private Optional<Visit> visit(SimpleTable.Row row) {
        int before = faults.size();
        if (row.get("visit").isEmpty()) {
            fault(row.place().in("visit"), "the visit has no name.");
        }
        String verdict = row.get("verdict").toLowerCase(Locale.ROOT);
        if (!List.of("", "yes", "no").contains(verdict)) {
            fault(row.place().in("verdict"), "write yes or no.");
        }
        OptionalInt target = day(row, "target_day");
        OptionalInt from = day(row, "from_day");
        OptionalInt to = day(row, "to_day");
        Optional<Visit.Role> role = role(row);
        List<InstrumentId> forms = forms(row);
        if (faults.size() > before) {
            return Optional.empty();
        }
        try {
            return Optional.of(new Visit(
                    row.get("visit"),
                    target.orElseThrow(),
                    from.orElseThrow(),
                    to.orElseThrow(),
                    role.orElseThrow(),
                    forms,
                    !verdict.equals("no")));
        } catch (IllegalArgumentException e) {
            fault(row.place(), e.getMessage() + ".");
            return Optional.empty();
        }
    }

    private OptionalInt day(SimpleTable.Row row, String column) {
        OptionalDouble number = Cells.number(row.get(column));
        if (number.isEmpty()
                || number.getAsDouble() != Math.rint(number.getAsDouble())
                || Math.abs(number.getAsDouble()) > 100_000) {
            fault(row.place().in(column), "write a whole number of days from the index date, such as 42 or -90.");
            return OptionalInt.empty();
        }
        return OptionalInt.of((int) number.getAsDouble());
    }

    private Optional<Visit.Role> role(SimpleTable.Row row) {
        return switch (row.get("role").toLowerCase(Locale.ROOT)) {
            case "baseline" -> Optional.of(Visit.Role.BASELINE);
            case "follow-up" -> Optional.of(Visit.Role.FOLLOW_UP);
            default -> {
                fault(row.place().in("role"), "write baseline or follow-up.");
                yield Optional.empty();
            }
        };
    }

    private List<InstrumentId> forms(SimpleTable.Row row) {
        List<InstrumentId> forms = new ArrayList<>();
        for (String id : row.get("forms").toLowerCase(Locale.ROOT).split("[\\s,;]+")) {
            if (!id.isEmpty() && catalogue.find(id).isEmpty()) {
                fault(
                        row.place().in("forms"),
                        "'" + Cells.printable(id) + "' is no instrument. Correct the id.",
                        Remedy.of(Remedy.Kind.INSTRUMENTS));
            } else if (!id.isEmpty()) {
                forms.add(new InstrumentId(id));
            }
        }
        return forms;
    }
}
