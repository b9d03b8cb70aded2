package lumbrical.workbook;

import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import lumbrical.columns.FollowUpColumns;
import lumbrical.followup.VisitCount;
import lumbrical.output.OutputColumn;
import lumbrical.output.OutputTable;
import lumbrical.output.Value;

/** The sheet of what was expected and what came: the columns of the file, and an interval beside each percentage. */
final class FollowUpSheet {
    static final OutputTable<VisitCount> TABLE = new OutputTable<>(FollowUpColumns.TABLE.name(), columns());

    private static final Layout LAYOUT = Layout.of(2)
            .width(Map.of(
                    "visit", 14,
                    "received_interval", 16,
                    "not_scored_too_few_answered", 31,
                    "not_scored_response_not_allowed", 34,
                    "not_scored_no_answers", 25,
                    "not_scored_part_not_scored", 29,
                    "not_scored_rule_not_published", 33));

    private FollowUpSheet() {}

    static void write(StreamingWorkbook book, List<VisitCount> counts) {
        TableSheet.write(book, TABLE, LAYOUT, counts);
        book.printColumns(TABLE.name(), TABLE.headings().indexOf("scorable"), counts.size());
    }

    private static List<OutputColumn<VisitCount>> columns() {
        List<OutputColumn<VisitCount>> columns = new ArrayList<>();
        for (OutputColumn<VisitCount> column : FollowUpColumns.TABLE.columns()) {
            columns.add(column);
            if (column.name().equals("received_percent")) {
                columns.add(OutputColumn.text(
                        "received_interval",
                        "95 % interval of the percentage (Wilson); takes forms as independent",
                        r -> r.expected() == 0
                                ? Value.BLANK
                                : Value.word(CohortPage.span(1, OverviewSheet.percent(r.received(), r.expected())))));
            }
        }
        return columns;
    }
}
