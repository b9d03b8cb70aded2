package lumbrical.workbook;

import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.function.Function;
import java.util.stream.Stream;
import lumbrical.change.BeyondError;
import lumbrical.change.Change;
import lumbrical.change.ReachesMcid;
import lumbrical.followup.ChangeRow;
import lumbrical.followup.FollowUpResult;
import lumbrical.instrument.Direction;
import lumbrical.instrument.Scale;
import lumbrical.instrument.Threshold;
import lumbrical.number.Memo;
import lumbrical.output.OutputColumn;
import lumbrical.output.OutputColumn.Kind;
import lumbrical.output.Value;
import lumbrical.workbook.StreamingWorkbook.LongSheet;
import org.apache.poi.ss.usermodel.CellStyle;
import org.apache.poi.ss.usermodel.Color;
import org.apache.poi.ss.usermodel.ConditionalFormattingThreshold;
import org.apache.poi.ss.usermodel.ConditionalFormattingThreshold.RangeType;
import org.apache.poi.ss.util.CellRangeAddress;
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
    /** Improvement, its telling digits, both questions, verdict, what gaps could do, MCID, MDC. */
    private static final int[] LAST_WIDTHS = {13, 24, 14, 14, 40, 16, 8, 34, 8, 30};
    /** Printed over so many pages, who it is about repeated on each: smaller could not be read. */
    private static final int PAGES_WIDE = 3;

    private static final int CARRIED_WIDTH = 16;
    /** Improvement, its telling digits and the two questions stand before the verdict. */
    private static final int VERDICT_AFTER_VISITS = 4;

    /** How many columns after the visits the telling digits stand. */
    private static final int DIGITS_AFTER_VISITS = 1;

    /** Characters that the indent of a text and the breaking at blanks take. */
    private static final int INDENT = 4;

    /** How many columns after the visits the MCID stands, and the MDC. */
    static final int MCID_AFTER_VISITS = 6;

    static final int MDC_AFTER_VISITS = 8;

    /** Few thresholds stand in many rows. */
    private static final Memo<Threshold, String> BRIEF = new Memo<>(8, OverviewDetails::brief);

    private TrajectorySheet() {}

    static void write(StreamingWorkbook book, FollowUpResult clinic, Trajectories trajectories) {
        LongSheet sheet = book.longSheet(NAME);
        List<OutputColumn<Trajectories.Course>> columns = columns(clinic);
        int visits = clinic.schedule().visits().size();
        int[] widths = widths(columns.size(), visits);
        TableSheet.header(book, sheet, widths, columns);
        for (int i = 0; i < widths.length; i++) {
            sheet.sheet().setColumnWidth(i, widths[i] * 256);
        }
        StreamingWorkbook.freeze(sheet.sheet(), 1, 0);
        sheet.sheet().getPrintSetup().setFitWidth((short) PAGES_WIDE);
        sheet.sheet().setRepeatingColumns(new CellRangeAddress(-1, -1, 0, 0));
        List<Trajectories.Course> courses = trajectories.courses();
        if (courses.size() > TableSheet.LAST_ROW) {
            throw new IllegalStateException("More courses than a sheet has rows: " + courses.size());
        }
        RowsAhead.write(
                book,
                courses,
                course -> Stream.of(new Made(
                        course, columns.stream().map(c -> c.of().apply(course)).toList())),
                made -> add(book, sheet, columns, made, visits, widths));
        int blockStart = 1;
        for (int row = 1; row <= courses.size(); row++) {
            boolean endOfBlock = row == courses.size() || !courses.get(row).sameScale(courses.get(row - 1));
            if (endOfBlock) {
                shade(book, courses.get(row - 1).scale(), blockStart, row, visits);
                blockStart = row + 1;
            }
        }
        sheet.sheet().setAutoFilter(new CellRangeAddress(0, Math.max(courses.size(), 1), 0, columns.size() - 1));
        sheet.end();
    }

    /** A course whose cells are made. */
    private record Made(Trajectories.Course course, List<Value> cells) {}

    private static void add(
            StreamingWorkbook book,
            LongSheet sheet,
            List<OutputColumn<Trajectories.Course>> columns,
            Made made,
            int visits,
            int[] widths) {
        int verdictColumn = FIRST_VISIT + visits + VERDICT_AFTER_VISITS;
        int digitsColumn = FIRST_VISIT + visits + DIGITS_AFTER_VISITS;
        Optional<Change> last = made.course().last().map(ChangeRow::change);
        int lines = 1;
        for (int i = 0; i < widths.length; i++) {
            Value content = made.cells().get(i);
            CellStyle style = TableSheet.styleOf(book.styles(), columns.get(i).kind(), content);
            if (i == PICTURE_COLUMN) {
                style = book.styles().picture;
            } else if (i == digitsColumn) {
                style = book.styles().wrapped;
            } else if (i == verdictColumn && last.isPresent()) {
                style = book.styles().of(last.get().verdict());
            }
            if ((i == digitsColumn || i == verdictColumn) && content instanceof Value.Word word) {
                lines = Math.max(lines, Layout.lines(word.text(), widths[i] - INDENT));
            }
            TableSheet.add(sheet, i, style, content);
        }
        TableSheet.end(sheet, lines);
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
                        "The known condition that the text of the episodes means, else that text",
                        c -> Value.text(c.condition().label())),
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
                c -> c.last().map(l -> Value.number(l.change().improvement())).orElse(Value.BLANK)));
        columns.add(text(TellingDigits.COLUMN, TellingDigits.MEANING, c -> c.last()
                .map(l -> TellingDigits.of(l.change()))
                .orElse(Value.BLANK)));
        columns.add(text(
                "beyond_error",
                "Is the last change beyond measurement error (MDC)?",
                c -> Value.word(c.last().flatMap(l -> l.change().beyondError()).map(BeyondError::code))));
        columns.add(text(
                "reaches_mcid",
                "Is it as much as patients call important (MCID)?",
                c -> Value.word(c.last().flatMap(l -> l.change().reachesMcid()).map(ReachesMcid::code))));
        columns.add(text(
                "verdict",
                "Both questions together, at the visit named; blue is better, orange worse",
                c -> Value.word(c.last().map(TrajectorySheet::verdict))));
        columns.add(text(
                "gaps",
                "What answers to unanswered items could do to the verdict",
                c -> Value.word(c.last()
                        .flatMap(l -> l.change().gapsCouldChangeVerdict())
                        .map(could -> could ? "could change it" : ""))));
        columns.add(number(
                "mcid",
                "Smallest change that patients call important",
                c -> value(c.last().flatMap(l -> l.change().thresholds().mcid()))));
        columns.add(text(
                "mcid_used",
                "Value and id of the MCID; population and source in the sheet Thresholds",
                c -> Value.word(
                        c.last().flatMap(l -> l.change().thresholds().mcid()).map(BRIEF::of))));
        columns.add(number(
                "mdc",
                "Smallest change beyond measurement error",
                c -> value(c.last().flatMap(l -> l.change().thresholds().mdc()))));
        columns.add(text(
                "mdc_used",
                "Value and id of the MDC; population and source in the sheet Thresholds",
                c -> Value.word(
                        c.last().flatMap(l -> l.change().thresholds().mdc()).map(BRIEF::of))));
        for (String carried : carried(clinic)) {
            columns.add(text(
                    carried,
                    "Carried from the episodes",
                    c -> Value.text(c.episode().carried().getOrDefault(carried, ""))));
        }
        return columns;
    }

    private static Value value(Optional<Threshold> threshold) {
        return Value.number(threshold.map(Threshold::value).orElse(OptionalDouble.empty()));
    }

    private static List<String> carried(FollowUpResult clinic) {
        return clinic.episodes().isEmpty()
                ? List.of()
                : List.copyOf(clinic.episodes().get(0).episode().carried().keySet());
    }

    private static OutputColumn<Trajectories.Course> text(
            String name, String meaning, Function<Trajectories.Course, Value> of) {
        return new OutputColumn<>(name, meaning, Kind.TEXT, of);
    }

    private static OutputColumn<Trajectories.Course> number(
            String name, String meaning, Function<Trajectories.Course, Value> of) {
        return new OutputColumn<>(name, meaning, Kind.NUMBER, of);
    }

    private static String verdict(ChangeRow row) {
        return row.followUp().at().visitName().orElse("") + ": " + words(row.change());
    }

    static String words(Change change) {
        String sign =
                switch (change.verdict()) {
                    case IMPORTANT_IMPROVEMENT -> "\u25B2 ";
                    case IMPROVEMENT_WITHIN_ERROR, SMALL_IMPROVEMENT -> "\u25B3 ";
                    case SMALL_WORSENING, WORSENING_WITHIN_ERROR -> "\u25BD ";
                    case IMPORTANT_WORSENING -> "\u25BC ";
                    case NO_IMPORTANT_CHANGE, NOT_ASSESSABLE -> "";
                };
        return sign
                + change.verdict().words()
                + change.reason().map(r -> ", because " + r.words()).orElse("");
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
