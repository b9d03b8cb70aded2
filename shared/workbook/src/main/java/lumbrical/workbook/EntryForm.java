package lumbrical.workbook;

import java.io.IOException;
import java.io.OutputStream;
import java.nio.file.Path;
import java.time.LocalDate;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import lumbrical.instrument.Column;
import lumbrical.instrument.Instrument;
import lumbrical.instrument.Item;
import lumbrical.output.Numbers;
import org.apache.poi.ss.usermodel.Cell;
import org.apache.poi.ss.usermodel.Row;
import org.apache.poi.xssf.streaming.SXSSFDrawing;
import org.apache.poi.xssf.streaming.SXSSFSheet;
import org.apache.poi.xssf.usermodel.XSSFSheet;

/**
 * An empty workbook for data entry: a row is one sitting, a column one response. Its first sheet holds the table and nothing
 * else, so that the response reader takes it as it is; help, codes and the count of blanks stand on sheets of their own.
 */
public final class EntryForm {
    /** Rows prepared with checks and a count of blanks. */
    static final int ROWS = 1000;

    static final String RESPONSES = "Responses";
    private static final List<String> SITTING = List.of("patient", "completed_on", "side", "episode");

    private EntryForm() {}

    /** A column of the form; without a response column it is one of the sitting. */
    record Field(String heading, Optional<Instrument> instrument, Optional<Column> column) {}

    /** Headings of the form in order: those of the sitting, then every response column of the instruments. */
    public static List<String> headings(List<Instrument> instruments) {
        return fields(instruments).stream().map(Field::heading).toList();
    }

    static List<Field> fields(List<Instrument> instruments) {
        List<Field> fields = new ArrayList<>();
        SITTING.forEach(name -> fields.add(new Field(name, Optional.empty(), Optional.empty())));
        for (Instrument instrument : instruments) {
            instrument.columns().forEach(c -> fields.add(new Field(c.name(), Optional.of(instrument), Optional.of(c))));
        }
        return List.copyOf(fields);
    }

    /**
     * Writes the form.
     *
     * @param instruments the instruments, each once, at least one
     * @param made the day of making, written into the file's properties
     * @param scratch a folder for temporary files, which the caller removes
     * @throws IOException if it cannot be written
     */
    public static void write(List<Instrument> instruments, LocalDate made, Path scratch, OutputStream out)
            throws IOException {
        StreamingWorkbook.write(made, scratch, out, book -> {
            List<Field> fields = fields(instruments);
            SXSSFSheet sheet = responses(book, fields);
            EntryBlanks.write(book, fields);
            EntryCodes codes = EntryCodes.write(book, instruments);
            EntryChecks.add(book, sheet, fields, codes);
            EntryHelp.write(book, instruments);
            book.recalculateOnOpening();
        });
    }

    private static SXSSFSheet responses(StreamingWorkbook book, List<Field> fields) {
        SXSSFSheet sheet = book.sheet(RESPONSES);
        XSSFSheet template = book.inMemory().getSheet(RESPONSES);
        Row header = sheet.createRow(0);
        header.setHeightInPoints(30);
        SXSSFDrawing drawing = sheet.createDrawingPatriarch();
        for (int i = 0; i < fields.size(); i++) {
            Field field = fields.get(i);
            Cell cell = header.createCell(i);
            cell.setCellValue(field.heading());
            cell.setCellStyle(book.styles().header);
            TableSheet.note(book, drawing, cell, note(field));
            sheet.setColumnWidth(i, Math.max(9, field.heading().length() + 3) * 256);
            boolean text = field.heading().equals("patient") || field.heading().equals("episode");
            boolean day = field.heading().equals("completed_on");
            // Text keeps the leading zeros of an id; a day shows as an ISO date whatever the country.
            template.setDefaultColumnStyle(
                    i, text ? book.styles().typedText : day ? book.styles().typedDate : book.styles().typed);
        }
        StreamingWorkbook.freeze(sheet, SITTING.size(), 0);
        return sheet;
    }

    private static String note(Field field) {
        return switch (field.heading()) {
            case "patient" -> "Pseudonymous id. Never a name. Leading zeros are kept.";
            case "completed_on" -> "Day on which the form was filled in, such as 2026-03-09.";
            case "side" -> "right, left or both: the hand the form is about. Blank if not known.";
            case "episode" -> "Id of the treatment, as in the table of episodes. May be left blank.";
            default -> field.column().map(c -> topic(c) + "\n" + allowed(c)).orElse("");
        };
    }

    /** Our label of an item, its hand, and its wording where that is open. */
    static String topic(Column column) {
        Item item = column.item();
        return item.topic()
                + column.hand().map(h -> ", " + h.code() + " hand").orElse("")
                + item.module().map(m -> " (" + m + " module)").orElse("")
                + item.text().map(t -> ": " + withoutStop(t)).orElse("");
    }

    private static String withoutStop(String text) {
        return text.endsWith(".") ? text.substring(0, text.length() - 1) : text;
    }

    /** The responses allowed, in words. */
    static String allowed(Column column) {
        return EntryCodes.inWords(column.item().responses()) + ". Leave blank if not answered.";
    }

    /** A range of numbers in words. */
    static String range(double low, double high) {
        return Numbers.format(low) + " to " + Numbers.format(high);
    }
}
