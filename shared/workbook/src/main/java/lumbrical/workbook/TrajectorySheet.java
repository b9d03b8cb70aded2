package lumbrical.workbook;

import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.function.Function;
import lumbrical.followup.Change;
import lumbrical.followup.Episode;
import lumbrical.followup.FollowUpResult;
import lumbrical.instrument.Direction;
import lumbrical.instrument.Scale;
import lumbrical.output.OutputColumn;
import lumbrical.output.OutputColumn.Kind;
import lumbrical.output.Value;
import org.apache.poi.ss.usermodel.Cell;
import org.apache.poi.ss.usermodel.Color;
import org.apache.poi.ss.usermodel.ConditionalFormattingThreshold;
import org.apache.poi.ss.usermodel.ConditionalFormattingThreshold.RangeType;
import org.apache.poi.ss.usermodel.Row;
import org.apache.poi.ss.util.CellRangeAddress;
import org.apache.poi.xssf.streaming.SXSSFSheet;
import org.apache.poi.xssf.usermodel.XSSFColor;
import org.apache.poi.xssf.usermodel.XSSFColorScaleFormatting;
import org.apache.poi.xssf.usermodel.XSSFConditionalFormattingRule;
import org.apache.poi.xssf.usermodel.XSSFSheetConditionalFormatting;

/** The sheet of courses: an episode and scale per row, a visit per column; darker is worse within each scale's range. */
final class TrajectorySheet {
    static final String NAME = "Trajectories";
    /** Column of what the picker of Charts shows. */
    static final int KEY_COLUMN = 0;
    /** Column of the better end. */
    static final int BETTER_COLUMN = 8;
    /** Column of the range's low end; the high end follows. */
    static final int RANGE_COLUMN = 9;
    /** Column of the first visit. */
    static final int FIRST_VISIT = 12;

    private static final int PICTURE_COLUMN = 11;
    private static final int[] WIDTHS = {34, 10, 9, 9, 13, 20, 12, 18, 8, 7, 7, 14};
    private static final int VISIT_WIDTH = 10;
    /** Improvement, verdict, MCID. */
    private static final int[] LAST_WIDTHS = {13, 42, 34};

    private static final int CARRIED_WIDTH = 16;

    private TrajectorySheet() {}

    static void write(StreamingWorkbook book, FollowUpResult clinic, Trajectories trajectories) {
        SXSSFSheet sheet = book.sheet(NAME);
        List<OutputColumn<Trajectories.Course>> columns = columns(clinic);
        int visits = clinic.schedule().visits().size();
        int[] widths = widths(columns.size(), visits);
        TableSheet.header(book, sheet, widths, columns);
        for (int i = 0; i < widths.length; i++) {
            sheet.setColumnWidth(i, widths[i] * 256);
        }
        StreamingWorkbook.freeze(sheet, 1, 0);
        int verdictColumn = FIRST_VISIT + visits + 1;
        int row = 0;
        int blockStart = 1;
        List<Trajectories.Course> courses = trajectories.courses();
        for (Trajectories.Course course : courses) {
            if (row == TableSheet.LAST_ROW) {
                throw new IllegalStateException("More courses than a sheet has rows: " + courses.size());
            }
            row++;
            Row cells = sheet.createRow(row);
            for (int i = 0; i < columns.size(); i++) {
                TableSheet.set(book, cells, i, columns.get(i).of().apply(course));
            }
            cells.getCell(PICTURE_COLUMN).setCellStyle(book.styles().picture);
            Cell verdict = cells.getCell(verdictColumn);
            if (verdict != null && course.last().isPresent()) {
                verdict.setCellStyle(book.styles().of(course.last().get().verdict()));
            }
            boolean endOfBlock = row == courses.size() || courses.get(row).scale() != course.scale();
            if (endOfBlock) {
                shade(book, course.scale(), blockStart, row, visits);
                blockStart = row + 1;
            }
        }
        sheet.setAutoFilter(new CellRangeAddress(0, Math.max(row, 1), 0, columns.size() - 1));
    }

    private static int[] widths(int columns, int visits) {
        int[] widths = new int[columns];
        for (int i = 0; i < columns; i++) {
            widths[i] = VISIT_WIDTH;
            int after = i - FIRST_VISIT - visits;
            if (i < WIDTHS.length) {
                widths[i] = WIDTHS[i];
            } else if (after >= 0) {
                widths[i] = after < LAST_WIDTHS.length ? LAST_WIDTHS[after] : CARRIED_WIDTH;
            }
        }
        return widths;
    }

    static List<OutputColumn<Trajectories.Course>> columns(FollowUpResult clinic) {
        List<OutputColumn<Trajectories.Course>> columns = new ArrayList<>(List.of(
                text("course", "What the picker of Charts shows", c -> Value.text(c.key())),
                text("patient", "Pseudonymous id", c -> Value.text(c.episode().patient())),
                text(
                        "episode",
                        "One treatment of one side",
                        c -> Value.text(c.episode().id())),
                text(
                        "side",
                        "Treated side",
                        c -> Value.word(c.episode().treatedSide().code())),
                new OutputColumn<>(
                        "index_date",
                        "Operation or treatment start",
                        Kind.DATE,
                        c -> Value.day(c.episode().indexDate())),
                text(
                        "condition",
                        "As in the episodes",
                        c -> Value.text(c.episode().condition())),
                text(
                        "instrument",
                        "Instrument id",
                        c -> Value.word(c.instrument().id().value())),
                text("scale", "Scale id", c -> Value.word(c.scale().id().value())),
                text(
                        "better",
                        "Which end is the good one",
                        c -> Value.word(c.scale().better().code())),
                number(
                        "low",
                        "Lowest possible score",
                        c -> Value.number(c.scale().range().low())),
                number(
                        "high",
                        "Highest possible score",
                        c -> Value.number(c.scale().range().high())),
                text(
                        "picture",
                        "A bar for each visit, from the worst possible score (lowest bar) to the best (highest); higher is"
                                + " better on every scale; a dot = no score",
                        c -> Value.word(Sparkline.of(c.scale(), c.scores())))));
        for (int i = 0; i < clinic.schedule().visits().size(); i++) {
            int position = i;
            columns.add(number(
                    clinic.schedule().visits().get(i).name(),
                    "The score that counts at this visit; the darker the cell, the worse within the scale's range",
                    c -> Double.isNaN(c.scores()[position]) ? Value.BLANK : Value.number(c.scores()[position])));
        }
        columns.add(number(
                "improvement",
                "From the baseline to the last visit with a score; positive when the patient got better",
                c -> c.last().map(l -> Value.number(l.improvement())).orElse(Value.BLANK)));
        columns.add(text(
                "verdict",
                "What the last change amounts to, at the visit named, by the MCID beside it; blue is better, orange worse;"
                        + " not certain = unanswered items could turn it",
                c -> Value.word(c.last().map(TrajectorySheet::verdict))));
        columns.add(text(
                "mcid_used",
                "Value and id of the MCID; population and source in the sheet Thresholds",
                c -> Value.word(c.last().flatMap(Change::mcid).map(OverviewDetails::brief))));
        for (String carried : carried(clinic.episodes())) {
            columns.add(text(
                    carried,
                    "Carried from the episodes",
                    c -> Value.text(c.episode().carried().getOrDefault(carried, ""))));
        }
        return columns;
    }

    private static List<String> carried(List<Episode> episodes) {
        return episodes.isEmpty()
                ? List.of()
                : List.copyOf(episodes.get(0).carried().keySet());
    }

    private static OutputColumn<Trajectories.Course> text(
            String name, String meaning, Function<Trajectories.Course, Value> of) {
        return new OutputColumn<>(name, meaning, Kind.TEXT, of);
    }

    private static OutputColumn<Trajectories.Course> number(
            String name, String meaning, Function<Trajectories.Course, Value> of) {
        return new OutputColumn<>(name, meaning, Kind.NUMBER, of);
    }

    private static String verdict(Change change) {
        return change.followUp().visitName().orElse("") + ": " + words(change)
                + (change.certain().equals(Optional.of(false)) ? ", not certain" : "");
    }

    static String words(Change change) {
        return switch (change.verdict()) {
            case IMPORTANT_IMPROVEMENT -> "\u25B2 important improvement";
            case IMPROVEMENT_WITHIN_ERROR -> "\u25B3 improvement within error";
            case NO_IMPORTANT_CHANGE -> "= no important change";
            case WORSENING_WITHIN_ERROR -> "\u25BD worsening within error";
            case IMPORTANT_WORSENING -> "\u25BC important worsening";
            case NOT_ASSESSABLE ->
                "not assessable, " + change.whyNotAssessable().orElse("");
        };
    }

    /** From white at the best possible score of the scale to slate at the worst. */
    private static void shade(StreamingWorkbook book, Scale scale, int first, int last, int visits) {
        XSSFSheetConditionalFormatting formatting =
                book.inMemory().getSheet(NAME).getSheetConditionalFormatting();
        XSSFConditionalFormattingRule rule = formatting.createConditionalFormattingColorScaleRule();
        XSSFColorScaleFormatting colours = rule.getColorScaleFormatting();
        colours.setNumControlPoints(2);
        boolean lower = scale.better() == Direction.LOWER;
        ConditionalFormattingThreshold[] ends = colours.getThresholds();
        ends[0].setRangeType(RangeType.NUMBER);
        ends[0].setValue(scale.range().low());
        ends[1].setRangeType(RangeType.NUMBER);
        ends[1].setValue(scale.range().high());
        colours.setThresholds(ends);
        colours.setColors(new Color[] {
            new XSSFColor(lower ? Styles.WHITE : Styles.SLATE), new XSSFColor(lower ? Styles.SLATE : Styles.WHITE)
        });
        formatting.addConditionalFormatting(
                new CellRangeAddress[] {new CellRangeAddress(first, last, FIRST_VISIT, FIRST_VISIT + visits - 1)},
                rule);
    }
}
