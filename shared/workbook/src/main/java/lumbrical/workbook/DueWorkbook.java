package lumbrical.workbook;

import java.io.IOException;
import java.io.OutputStream;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.EnumMap;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Set;
import java.util.stream.Collectors;
import lumbrical.columns.BlankItemColumns;
import lumbrical.columns.DueColumns;
import lumbrical.followup.CallRow;
import lumbrical.followup.ExpectedForm;
import lumbrical.followup.FollowUpResult;
import lumbrical.output.OutputTable;
import lumbrical.output.Value;

/** The call list as a workbook: whom to call, what to ask for, and how many stand how by visit. */
public final class DueWorkbook {
    private static final Layout LAYOUT = Layout.of(3)
            .width(Map.of("visit", 14, "forms", 30, "form", 14, "state", 12, "days_left", 11, "blank_items", 70))
            .wrap("blank_items");
    private static final OutputTable<CallRow> TO_CALL = new OutputTable<>("To call", DueColumns.TABLE.columns());

    private DueWorkbook() {}

    /**
     * Writes the workbook.
     *
     * @param rows whom to call, in order
     * @param scratch a folder for temporary files, which the caller removes
     * @throws IOException if it cannot be written
     */
    public static void write(
            FollowUpResult clinic, List<CallRow> rows, RunRecord provenance, Path scratch, OutputStream out)
            throws IOException {
        StreamingWorkbook.write(clinic.asOf(), scratch, out, book -> {
            TableSheet.write(book, TO_CALL, LAYOUT, rows, "state", row -> book.styles()
                    .urgent(row.state() == ExpectedForm.State.LATE));
            TableSheet.write(book, BlankItemColumns.TABLE, LAYOUT, incomplete(clinic, rows));
            summary(book, clinic, provenance);
        });
    }

    /** The forms of the rows that came and cannot be scored. */
    private static List<ExpectedForm> incomplete(FollowUpResult clinic, List<CallRow> rows) {
        Set<List<String>> wanted = rows.stream()
                .filter(row -> row.state() == ExpectedForm.State.INCOMPLETE)
                .map(row -> List.of(
                        row.episode().patient(), row.episode().id(), row.visit().name()))
                .collect(Collectors.toSet());
        return clinic.expected()
                .filter(form -> form.state() == ExpectedForm.State.INCOMPLETE)
                .filter(form -> wanted.contains(List.of(
                        form.episode().patient(),
                        form.episode().id(),
                        form.visit().name())))
                .toList();
    }

    private static void summary(StreamingWorkbook book, FollowUpResult clinic, RunRecord provenance) {
        Page page = new Page(book, "Summary", 22, 12, 12, 12, 12, 12, 24, 12);
        page.line("Forms due as of " + clinic.asOf(), book.styles().title);
        page.line(
                "open: up to the target day. late: past it, the window still open. missed: the window is over. closed: the episode"
                        + " was closed inside the window.",
                book.styles().plain);
        page.line(
                "A form that came but cannot be scored may still be rescued by a call: the sheet Items to ask for names"
                        + " the blank items.",
                book.styles().plain);
        page.section("Expected forms by visit and state");
        List<String> headings = new ArrayList<>(List.of("visit"));
        for (ExpectedForm.State state : ExpectedForm.State.values()) {
            headings.add(state.code());
        }
        page.headings(1, headings);
        Map<String, EnumMap<ExpectedForm.State, Integer>> counts = new LinkedHashMap<>();
        clinic.schedule().visits().forEach(v -> counts.put(v.name(), new EnumMap<>(ExpectedForm.State.class)));
        clinic.expected().forEach(d -> counts.get(d.visit().name()).merge(d.state(), 1, Integer::sum));
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
