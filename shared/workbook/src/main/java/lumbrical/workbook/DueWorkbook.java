package lumbrical.workbook;

import java.io.IOException;
import java.io.OutputStream;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.EnumMap;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import lumbrical.columns.DueColumns;
import lumbrical.followup.ExpectedForm;
import lumbrical.followup.FollowUpResult;
import lumbrical.output.OutputTable;
import lumbrical.output.Value;

/** The due list as a workbook: how many by visit, whom to call, and every expected form. */
public final class DueWorkbook {
    private static final Layout LAYOUT = Layout.of(3)
            .width(Map.of("visit", 14, "instrument", 14, "state", 24, "days_left", 11, "blank_items", 70))
            .wrap("blank_items");
    private static final OutputTable<ExpectedForm> TO_CALL = new OutputTable<>("To call", DueColumns.TABLE.columns());

    private DueWorkbook() {}

    /**
     * Writes the workbook.
     *
     * @param scratch a folder for temporary files, which the caller removes
     * @throws IOException if it cannot be written
     */
    public static void write(FollowUpResult clinic, RunRecord provenance, Path scratch, OutputStream out)
            throws IOException {
        StreamingWorkbook.write(clinic.asOf(), scratch, out, book -> {
            summary(book, clinic, provenance);
            TableSheet.write(book, TO_CALL, LAYOUT, toCall(clinic.due()), "state", d -> book.styles()
                    .urgent(d.state() == ExpectedForm.State.OVERDUE));
            TableSheet.write(book, DueColumns.TABLE, LAYOUT, clinic.due());
        });
    }

    private static boolean needsCall(ExpectedForm form) {
        return switch (form.state()) {
            case DUE, OVERDUE, RECEIVED_NOT_SCORABLE -> true;
            case NOT_YET, MISSED, RECEIVED -> false;
        };
    }

    /** Windows that close first come first; forms that came but cannot be scored follow. */
    private static List<ExpectedForm> toCall(List<ExpectedForm> due) {
        return due.stream()
                .filter(DueWorkbook::needsCall)
                .sorted(Comparator.comparing((ExpectedForm d) -> d.state() == ExpectedForm.State.RECEIVED_NOT_SCORABLE)
                        .thenComparing(ExpectedForm::closes))
                .toList();
    }

    private static void summary(StreamingWorkbook book, FollowUpResult clinic, RunRecord provenance) {
        Page page = new Page(book, "Summary", 22, 12, 12, 12, 12, 12, 24, 12);
        page.line("Forms due as of " + clinic.asOf(), book.styles().title);
        page.line(
                "Due: the window is open, the target day not yet past. Overdue: past it, the window still open. Missed: closed.",
                book.styles().plain);
        page.line(
                "A form that came but cannot be scored may still be rescued by a call: the sheet To call names the blank"
                        + " items.",
                book.styles().plain);
        page.section("Expected forms by visit and state");
        List<String> headings = new ArrayList<>(List.of("visit"));
        for (ExpectedForm.State state : ExpectedForm.State.values()) {
            headings.add(state.code());
        }
        page.headings(1, headings);
        Map<String, EnumMap<ExpectedForm.State, Integer>> counts = new LinkedHashMap<>();
        clinic.schedule().visits().forEach(v -> counts.put(v.name(), new EnumMap<>(ExpectedForm.State.class)));
        clinic.due().forEach(d -> counts.get(d.visit().name()).merge(d.state(), 1, Integer::sum));
        counts.forEach((visit, states) -> {
            List<Value> values = new ArrayList<>(List.of(Value.text(visit)));
            for (ExpectedForm.State state : ExpectedForm.State.values()) {
                values.add(Value.number(states.getOrDefault(state, 0)));
            }
            page.values(values);
        });
        provenance.print(page);
    }
}
