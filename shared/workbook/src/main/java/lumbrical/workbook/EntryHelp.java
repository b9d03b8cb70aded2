package lumbrical.workbook;

import java.util.List;
import lumbrical.instrument.Column;
import lumbrical.instrument.Instrument;
import lumbrical.instrument.Licence;
import org.apache.poi.ss.usermodel.Cell;
import org.apache.poi.ss.usermodel.CellStyle;
import org.apache.poi.ss.usermodel.Row;
import org.apache.poi.xssf.streaming.SXSSFSheet;

/** The sheet of an entry form that says how to fill it in, and on what terms each instrument may be used. */
final class EntryHelp {
    private static final List<String> HOW = List.of(
            "Type on the sheet Responses: one row for each sitting, that is one patient on one day.",
            "Headings are column names; rest the mouse on one to read its topic. Topics are short labels of ours, not the"
                    + " questions: the wording must come from the licensed form.",
            "Choose a code from the list of each cell. An item that was not answered stays blank. Two ticks, or a mark"
                    + " between two codes: leave it blank.",
            "Blank items of a row in use are tinted. The sheet Blanks counts them by row; modules and the other hand may"
                    + " rightly be blank.",
            "The first " + EntryForm.ROWS + " rows are checked while you type. Scoring checks every row again.",
            "Never type a name or a birth date. Keep the list of ids apart from this file.",
            "Score the saved file as it is; the first sheet is read, the others are not.");

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

    static void write(StreamingWorkbook book, List<Instrument> instruments) {
        EntryHelp help = new EntryHelp(book);
        help.line("How to fill in this form", book.styles().title);
        help.sheet.getRow(0).setHeightInPoints(Page.TITLE_POINTS);
        HOW.forEach(text -> help.pair("", text));
        help.row++;
        help.line("Licences", book.styles().section);
        for (Instrument instrument : instruments) {
            Licence licence = instrument.facts().licence();
            help.pair(
                    instrument.id().value(),
                    instrument.facts().title() + ". " + licence.terms() + "; " + licence.holder() + " ("
                            + licence.provenance().standing().code() + ")."
                            + licence.note().map(n -> " " + n).orElse("")
                            + (licence.wordingIncluded() ? "" : " The wording must come from the licensed form."));
        }
        help.row++;
        help.line("Columns", book.styles().section);
        for (Instrument instrument : instruments) {
            for (Column column : instrument.columns()) {
                help.pair(column.name(), EntryForm.topic(column) + ". " + EntryForm.allowed(column));
            }
        }
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
