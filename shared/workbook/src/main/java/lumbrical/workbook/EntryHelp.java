package lumbrical.workbook;

import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.stream.Stream;
import lumbrical.instrument.Column;
import lumbrical.instrument.Instrument;
import lumbrical.instrument.Item;
import lumbrical.instrument.Licence;
import org.apache.poi.ss.usermodel.Cell;
import org.apache.poi.ss.usermodel.CellStyle;
import org.apache.poi.ss.usermodel.Row;
import org.apache.poi.xssf.streaming.SXSSFSheet;

/** The sheet of an entry form that says how to fill it in, and on what terms each instrument may be used. */
final class EntryHelp {
    private static List<String> how(int rows) {
        return List.of(
                "Type on the sheet Responses: one row for each patient and day.",
                "Headings are column names; rest the mouse on one to read its topic. Topics are short labels of ours, not the"
                        + " questions: the wording must come from the licensed form.",
                "Choose a code from the list of each cell. An item that was not answered stays blank. Two ticks, or a mark"
                        + " between two codes: leave it blank.",
                "Blue columns are computed while you type: of each scale the score, the lowest and the highest score that"
                        + " the unanswered items allow, how many items are unanswered, and why there is no score. They follow"
                        + " the instrument's own rules. They are locked, and the sheet is protected without a password, against"
                        + " slips alone; the steps stand on the hidden sheet Working.",
                "Blank items of a row in use are tinted. The sheet Blanks counts them by row; modules and the other hand may"
                        + " rightly be blank.",
                "The first " + rows + " rows are checked and scored while you type; for more take another form, several"
                        + " files can be scored together. Scoring checks every row again, and tells where it finds another"
                        + " score than the form shows.",
                "The sheets whose name begins with Print are for paper: an instrument each, blank, or with the answers and scores"
                        + " of the row whose number you type at the top. The other sheets are not printed unless you set a print"
                        + " area.",
                "Never type a name or a birth date. Keep the list of ids apart from this file.",
                "Scores support and never replace clinical judgement. Follow the instrument's manual and local policy.",
                "Score the saved file as it is; the first sheet is read, the others are not.");
    }

    private static final int WIDTH = 110;

    private final StreamingWorkbook book;
    private final SXSSFSheet sheet;
    private int row = -1;

    private EntryHelp(StreamingWorkbook book) {
        this.book = book;
        this.sheet = book.sheet("Help");
        sheet.setColumnWidth(0, 24 * 256);
        sheet.setColumnWidth(1, WIDTH * 256);
        StreamingWorkbook.freeze(sheet, 0, 0);
    }

    static void write(StreamingWorkbook book, List<Instrument> instruments, int rows) {
        EntryHelp help = new EntryHelp(book);
        help.line("How to fill in this form", book.styles().title);
        help.sheet.getRow(0).setHeightInPoints(Page.TITLE_POINTS);
        how(rows).forEach(text -> help.pair("", text));
        help.row++;
        help.line("Licences", book.styles().section);
        for (Instrument instrument : instruments) {
            help.pair(instrument.id().value(), instrument.facts().title() + ". " + licence(instrument));
        }
        help.row++;
        help.line("Notes", book.styles().section);
        for (Instrument instrument : instruments) {
            notes(instrument).forEach(note -> help.pair(instrument.id().value(), note));
        }
        help.row++;
        help.line("Columns", book.styles().section);
        for (Instrument instrument : instruments) {
            for (Column column : instrument.columns()) {
                help.pair(column.name(), EntryForm.topic(column) + ". " + EntryForm.allowed(column));
            }
        }
    }

    /** On what terms an instrument may be used, and whether its wording is here. */
    static String licence(Instrument instrument) {
        Licence licence = instrument.facts().licence();
        return "Licence: " + licence.terms() + "; " + licence.holder() + " ("
                + licence.provenance().standing().code() + ")."
                + licence.note().map(n -> " " + n).orElse("")
                + (licence.wordingIncluded()
                        ? ""
                        : " No wording is shipped. The wording must come from the licensed form.");
    }

    /** What a user should read, of the items and of the instrument. */
    static List<String> notes(Instrument instrument) {
        return Stream.concat(itemNotes(instrument).stream(), instrument.facts().notes().stream())
                .toList();
    }

    /** What a user should read of items; the same note of several items once. */
    static List<String> itemNotes(Instrument instrument) {
        Map<String, String> items = new LinkedHashMap<>();
        for (Item item : instrument.facts().items()) {
            item.note().ifPresent(note -> items.merge(note, item.id().value(), (before, more) -> before + ", " + more));
        }
        return items.entrySet().stream()
                .map(e -> "Item " + e.getValue() + ": " + e.getKey())
                .toList();
    }

    private void line(String text, CellStyle style) {
        row++;
        Cell cell = sheet.createRow(row).createCell(0);
        cell.setCellValue(text);
        cell.setCellStyle(style);
    }

    private void pair(String name, String text) {
        row++;
        Row cells = sheet.createRow(row);
        Cell first = cells.createCell(0);
        first.setCellValue(name);
        first.setCellStyle(book.styles().wrapped);
        Cell second = cells.createCell(1);
        second.setCellValue(text);
        second.setCellStyle(book.styles().wrapped);
        Layout.height(cells, Layout.lines(text, WIDTH));
    }
}
