package org.handoutcomes.workbook;

import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.function.Function;
import org.apache.poi.ss.usermodel.Cell;
import org.apache.poi.ss.usermodel.ConditionalFormattingThreshold.RangeType;
import org.apache.poi.ss.usermodel.Row;
import org.apache.poi.ss.util.CellRangeAddress;
import org.apache.poi.xssf.streaming.SXSSFSheet;
import org.apache.poi.xssf.usermodel.XSSFColor;
import org.apache.poi.xssf.usermodel.XSSFConditionalFormattingRule;
import org.apache.poi.xssf.usermodel.XSSFDataBarFormatting;
import org.apache.poi.xssf.usermodel.XSSFSheet;
import org.apache.poi.xssf.usermodel.XSSFSheetConditionalFormatting;
import org.handoutcomes.followup.Change;
import org.handoutcomes.followup.Episode;
import org.handoutcomes.followup.Longitudinal;
import org.handoutcomes.instrument.Scale;
import org.handoutcomes.output.OutputColumn;
import org.handoutcomes.output.OutputColumn.Kind;
import org.handoutcomes.output.Value;

/** The sheet of courses: an episode and scale per row, a visit per column, bars within each scale's range. */
final class TrajectorySheet {
    static final String NAME = "Trajectories";
    /** Column of the range's low end; the high end and the better end follow. */
    static final int RANGE_COLUMN = 9;
    /** Column of the first visit. */
    static final int FIRST_VISIT = 12;

    private TrajectorySheet() {}

    static void write(Book book, Longitudinal clinic, Trajectories trajectories) {
        SXSSFSheet sheet = book.sheet(NAME);
        List<OutputColumn<Trajectories.Course>> columns = columns(clinic);
        TableSheet.header(book, sheet, 0, columns);
        int[] widths = {34, 10, 9, 13, 12, 22, 13, 18, 42, 7, 7, 8};
        for (int i = 0; i < columns.size(); i++) {
            sheet.setColumnWidth(i, (i < widths.length ? widths[i] : 11) * 256);
        }
        Book.freeze(sheet, 1, 0);
        int row = 0;
        int blockStart = 1;
        List<Trajectories.Course> courses = trajectories.courses();
        for (Trajectories.Course course : courses) {
            row++;
            Row cells = sheet.createRow(row);
            for (int i = 0; i < columns.size(); i++) {
                TableSheet.set(book, cells, i, columns.get(i).of().apply(course));
            }
            Cell verdict = cells.getCell(8);
            if (verdict != null && course.last().isPresent()) {
                verdict.setCellStyle(book.styles().of(course.last().get().verdict()));
            }
            boolean endOfBlock = row == courses.size() || courses.get(row).scale() != course.scale();
            if (endOfBlock) {
                bars(
                        book,
                        course.scale(),
                        blockStart,
                        row,
                        clinic.schedule().visits().size());
                blockStart = row + 1;
            }
        }
        sheet.setAutoFilter(new CellRangeAddress(0, Math.max(row, 1), 0, columns.size() - 1));
    }

    private static List<OutputColumn<Trajectories.Course>> columns(Longitudinal clinic) {
        List<OutputColumn<Trajectories.Course>> columns = new ArrayList<>(List.of(
                text(
                        "course",
                        "Patient, episode, instrument and scale: what the picker of Charts shows",
                        c -> Value.text(c.key())),
                text("patient", "Pseudonymous id", c -> Value.text(c.episode().patient())),
                text(
                        "episode",
                        "One treatment of one side",
                        c -> Value.text(c.episode().id())),
                text(
                        "treated_side",
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
                        "verdict",
                        "What the last change amounts to, at the visit named; blue is better, orange worse; against the threshold shown in Change",
                        c -> Value.word(c.last().map(TrajectorySheet::verdict))),
                new OutputColumn<>(
                        "low",
                        "Lowest possible score",
                        Kind.NUMBER,
                        c -> Value.number(c.scale().range().low())),
                new OutputColumn<>(
                        "high",
                        "Highest possible score",
                        Kind.NUMBER,
                        c -> Value.number(c.scale().range().high())),
                text(
                        "better",
                        "Which end is the good one",
                        c -> Value.word(c.scale().better().code()))));
        for (int i = 0; i < clinic.schedule().visits().size(); i++) {
            int position = i;
            columns.add(new OutputColumn<>(
                    clinic.schedule().visits().get(i).name(),
                    "The score that counts at this visit; the bar shows it within the scale's range",
                    Kind.NUMBER,
                    c -> Double.isNaN(c.scores()[position]) ? Value.BLANK : Value.number(c.scores()[position])));
        }
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

    /** A bar in each visit's cell, from the lowest to the highest possible score of the scale. */
    private static void bars(Book book, Scale scale, int first, int last, int visits) {
        XSSFSheet sheet = book.inMemory().getSheet(NAME);
        XSSFSheetConditionalFormatting formatting = sheet.getSheetConditionalFormatting();
        XSSFConditionalFormattingRule rule =
                formatting.createConditionalFormattingRule(new XSSFColor(Styles.rgb(0xA9, 0xBE, 0xCC)));
        XSSFDataBarFormatting bar = rule.getDataBarFormatting();
        bar.getMinThreshold().setRangeType(RangeType.NUMBER);
        bar.getMinThreshold().setValue(scale.range().low());
        bar.getMaxThreshold().setRangeType(RangeType.NUMBER);
        bar.getMaxThreshold().setValue(scale.range().high());
        formatting.addConditionalFormatting(
                new CellRangeAddress[] {new CellRangeAddress(first, last, FIRST_VISIT, FIRST_VISIT + visits - 1)},
                rule);
    }
}
