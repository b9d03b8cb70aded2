package lumbrical.workbook;

import java.util.LinkedHashSet;
import java.util.List;
import java.util.Optional;
import java.util.Set;
import java.util.stream.Collectors;
import java.util.stream.Stream;
import lumbrical.instrument.Column;
import lumbrical.instrument.Instrument;
import lumbrical.instrument.Item;
import lumbrical.instrument.Side;
import lumbrical.intake.FormScoreColumn;
import org.apache.poi.ss.usermodel.Cell;
import org.apache.poi.ss.usermodel.CellStyle;
import org.apache.poi.ss.usermodel.DataValidation;
import org.apache.poi.ss.usermodel.DataValidationConstraint.OperatorType;
import org.apache.poi.ss.usermodel.DataValidationConstraint.ValidationType;
import org.apache.poi.ss.usermodel.Row;
import org.apache.poi.ss.util.CellRangeAddress;
import org.apache.poi.ss.util.CellRangeAddressList;
import org.apache.poi.xssf.streaming.SXSSFSheet;

/**
 * A sheet for paper of one instrument: its items down the page with our labels and the codes, never the form's wording. It is blank,
 * or shows the answers and scores of the row whose number is typed at its top. Set in 10 points on upright A4.
 */
final class EntryPrint {
    /** How the names of these sheets begin. */
    private static final String PREFIX = "Print ";

    private static final int[] WIDTHS = {13, 28, 39, 9, 9};
    private static final int ALL = 98;
    private static final int ANSWER = 3;
    private static final int LEFT = 4;
    private static final int LONGEST_NAME = 31;
    /** More than 6 mm, so that a number can be written into the box. */
    private static final float ITEM_POINTS = 18.5f;
    /** Letters are narrower than the digits by which a column is measured. */
    private static final double LETTERS = 1.25;

    private final StreamingWorkbook book;
    private final Instrument instrument;
    private final List<EntryForm.Field> fields;
    private final int rows;
    private final SXSSFSheet sheet;
    private int row = -1;
    private String picked = "";
    private boolean shaded;

    private EntryPrint(
            StreamingWorkbook book, String name, Instrument instrument, List<EntryForm.Field> fields, int rows) {
        this.book = book;
        this.instrument = instrument;
        this.fields = fields;
        this.rows = rows;
        this.sheet = book.sheet(name);
        for (int i = 0; i < WIDTHS.length; i++) {
            sheet.setColumnWidth(i, WIDTHS[i] * 256);
        }
        sheet.getPrintSetup().setLandscape(false);
    }

    /** Writes a sheet for each instrument, and gives their names. */
    static Set<String> write(
            StreamingWorkbook book, List<Instrument> instruments, List<EntryForm.Field> fields, int rows) {
        Set<String> names = new LinkedHashSet<>();
        for (Instrument instrument : instruments) {
            String whole = PREFIX + instrument.id();
            String cut = whole.substring(0, Math.min(whole.length(), LONGEST_NAME));
            String name = names.contains(cut) ? PREFIX + (names.size() + 1) : cut;
            names.add(name);
            new EntryPrint(book, name, instrument, fields, rows).write();
        }
        return names;
    }

    private void write() {
        line(instrument.facts().title(), book.styles().title);
        sheet.getRow(row).setHeightInPoints(Page.TITLE_POINTS);
        across(EntryHelp.licence(instrument)
                + (instrument.facts().licence().wordingIncluded()
                        ? ""
                        : " What stands below are short labels of ours, not the questions: use it beside the form."));
        picker();
        sitting();
        items();
        EntryHelp.itemNotes(instrument).stream()
                .map(EntryPrint::forPaper)
                .flatMap(Optional::stream)
                .forEach(this::across);
        scores();
        book.lock(sheet);
    }

    private Row next() {
        row++;
        return sheet.createRow(row);
    }

    private void line(String text, CellStyle style) {
        set(next(), 0, text, style);
    }

    private static Cell set(Row cells, int column, String text, CellStyle style) {
        Cell cell = cells.createCell(column);
        cell.setCellValue(text);
        cell.setCellStyle(style);
        return cell;
    }

    /** A text over the whole width, in as many lines as it needs. */
    private void across(String text) {
        line(text, book.styles().wrapped);
        sheet.addMergedRegion(new CellRangeAddress(row, row, 0, WIDTHS.length - 1));
        Layout.height(sheet.getRow(row), Layout.lines(text, ALL));
    }

    private void picker() {
        Row cells = next();
        set(cells, 0, "Row of the sheet Responses to print; empty for a blank form:", book.styles().plain);
        Cell pick = cells.createCell(ANSWER);
        pick.setCellStyle(book.styles().typedBox);
        cells.createCell(LEFT).setCellStyle(book.styles().typedBox);
        sheet.addMergedRegion(new CellRangeAddress(row, row, ANSWER, LEFT));
        picked = "$" + TableSheet.letters(ANSWER) + "$" + (row + 1);
        DataValidation check = sheet.getDataValidationHelper()
                .createValidation(
                        sheet.getDataValidationHelper()
                                .createNumericConstraint(
                                        ValidationType.INTEGER, OperatorType.BETWEEN, "2", String.valueOf(rows + 1)),
                        new CellRangeAddressList(row, row, ANSWER, ANSWER));
        check.setEmptyCellAllowed(true);
        check.setShowErrorBox(true);
        check.createErrorBox("row", "Type the number of a row, from 2 to " + (rows + 1) + ", or leave it empty.");
        sheet.addValidationData(check);
    }

    private void sitting() {
        fields("patient", "completed_on");
        fields("side", "episode");
        next().setHeightInPoints(6);
    }

    private void fields(String left, String right) {
        Row cells = next();
        cells.setHeightInPoints(ITEM_POINTS);
        set(cells, 0, left, book.styles().printed);
        set(cells, 2, right + " ", book.styles().printedRight);
        field(cells, 1, left);
        field(cells, ANSWER, right);
        spread(cells);
    }

    private void field(Row cells, int at, String heading) {
        Cell cell = cells.createCell(at);
        FilledDownFormulas.set(cell, ofPickedRow(heading));
        cell.setCellStyle(heading.equals("completed_on") ? book.styles().boxDate : book.styles().box);
    }

    /** One box over both columns of answers. */
    private void spread(Row cells) {
        cells.createCell(LEFT).setCellStyle(book.styles().box);
        sheet.addMergedRegion(new CellRangeAddress(row, row, ANSWER, LEFT));
    }

    /** What stands under a heading in the row that is chosen; empty if none is. */
    private String ofPickedRow(String heading) {
        String value = "INDEX(" + columnOf(heading) + "," + picked + "-1)";
        return "IF(" + picked + "=\"\",\"\",IF(ISBLANK(" + value + "),\"\"," + value + "))";
    }

    private String columnOf(String heading) {
        for (int i = 0; i < fields.size(); i++) {
            if (fields.get(i).heading().equals(heading)) {
                String letters = TableSheet.letters(i);
                return EntryForm.RESPONSES + "!$" + letters + "$2:$" + letters + "$" + (rows + 1);
            }
        }
        throw new IllegalArgumentException("The form has no column " + heading);
    }

    /** A note without its sentences on the tags of grips, which say nothing to who fills in the form. */
    private static Optional<String> forPaper(String note) {
        int colon = note.indexOf(": ");
        String kept = Stream.of(note.substring(colon + 2).split("(?<=\\.) "))
                .filter(sentence -> !sentence.contains("grip tag"))
                .collect(Collectors.joining(" "));
        return kept.isEmpty() ? Optional.empty() : Optional.of(note.substring(0, colon + 2) + kept);
    }

    private void items() {
        boolean hands = instrument.facts().items().stream().anyMatch(Item::perHand);
        Row header = next();
        List<String> headings =
                List.of("item", "label, ours", "codes", hands ? "right" : "answer", hands ? "left" : "");
        for (int i = 0; i < headings.size(); i++) {
            set(header, i, headings.get(i), book.styles().header);
        }
        if (!hands) {
            sheet.addMergedRegion(new CellRangeAddress(row, row, ANSWER, LEFT));
        }
        sheet.createFreezePane(0, row + 1);
        String module = "";
        for (Item item : instrument.facts().items()) {
            if (!item.module().orElse("").equals(module)) {
                module = item.module().orElse("");
                line(module.isEmpty() ? "" : module + " module, optional", book.styles().strong);
            }
            item(item);
        }
    }

    private void item(Item item) {
        Row cells = next();
        shaded = !shaded;
        CellStyle style = shaded ? book.styles().printedShaded : book.styles().printed;
        set(cells, 0, item.id().value(), style);
        String label = item.topic() + item.text().map(t -> ": " + t).orElse("");
        set(cells, 1, label, style);
        String codes = EntryCodes.inWords(item.responses()).replaceFirst("^Codes: ", "");
        set(cells, 2, codes, style);
        int lines = Math.max(
                Layout.lines(label, (int) (WIDTHS[1] * LETTERS)), Layout.lines(codes, (int) (WIDTHS[2] * LETTERS)));
        Layout.height(cells, lines);
        cells.setHeightInPoints(Math.max(ITEM_POINTS, lines > 1 ? cells.getHeightInPoints() : 0));
        answer(cells, item.perHand() ? Optional.of(Side.RIGHT) : Optional.empty(), item, ANSWER);
        if (item.perHand()) {
            answer(cells, Optional.of(Side.LEFT), item, LEFT);
        } else {
            spread(cells);
        }
    }

    private void answer(Row cells, Optional<Side> hand, Item item, int at) {
        Column column = instrument.column(item, hand);
        Cell cell = cells.createCell(at);
        FilledDownFormulas.set(cell, ofPickedRow(column.name()));
        cell.setCellStyle(book.styles().box);
    }

    /** The scores of the chosen row; nothing on a blank form. */
    private void scores() {
        List<FormScoreColumn> columns = FormScoreColumn.of(instrument);
        if (columns.isEmpty()) {
            return;
        }
        next().setHeightInPoints(6);
        Row header = next();
        List<String> headings = List.of("score", "scale", "why there is no score", "lowest", "highest");
        for (int i = 0; i < headings.size(); i++) {
            shownIfPicked(header, i, "\"" + headings.get(i) + "\"", book.styles().strong);
        }
        for (FormScoreColumn column : columns) {
            if (column.shows() == FormScoreColumn.Shows.SCORE) {
                Row cells = next();
                shown(cells, 0, column, FormScoreColumn.Shows.SCORE, book.styles().number);
                String scale = column.scale().id()
                        + column.hand().map(h -> " " + h.code()).orElse("");
                shownIfPicked(cells, 1, "\"" + scale + "\"", book.styles().plain);
                shown(cells, 2, column, FormScoreColumn.Shows.WHY, book.styles().plain);
                shown(cells, ANSWER, column, FormScoreColumn.Shows.LOWEST, book.styles().number);
                shown(cells, LEFT, column, FormScoreColumn.Shows.HIGHEST, book.styles().number);
            }
        }
    }

    private void shown(Row cells, int at, FormScoreColumn score, FormScoreColumn.Shows shows, CellStyle style) {
        FormScoreColumn column = new FormScoreColumn(score.instrument(), score.scale(), score.hand(), shows);
        Cell cell = cells.createCell(at);
        FilledDownFormulas.set(cell, ofPickedRow(column.heading()));
        cell.setCellStyle(style);
    }

    private void shownIfPicked(Row cells, int at, String value, CellStyle style) {
        Cell cell = cells.createCell(at);
        FilledDownFormulas.set(cell, "IF(" + picked + "=\"\",\"\"," + value + ")");
        cell.setCellStyle(style);
    }
}
