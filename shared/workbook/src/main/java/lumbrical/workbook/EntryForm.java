package lumbrical.workbook;

import java.io.IOException;
import java.io.OutputStream;
import java.nio.file.Path;
import java.time.LocalDate;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.Set;
import lumbrical.instrument.Column;
import lumbrical.instrument.Instrument;
import lumbrical.instrument.Item;
import lumbrical.instrument.Side;
import lumbrical.intake.FormScoreColumn;
import lumbrical.number.Numbers;
import lumbrical.sheetxml.SheetNotes;
import org.apache.poi.ss.usermodel.Cell;
import org.apache.poi.ss.usermodel.CellStyle;
import org.apache.poi.ss.usermodel.Row;
import org.apache.poi.xssf.streaming.SXSSFSheet;
import org.apache.poi.xssf.usermodel.XSSFSheet;

/**
 * An empty workbook for data entry: a row is one sitting, a column one response. Its first sheet holds the table and nothing
 * else, so that the response reader takes it as it is; help, codes and the count of blanks stand on sheets of their own.
 */
public final class EntryForm {
    /** Rows prepared with checks, scores and a count of blanks. */
    static final int ROWS = 250;

    static final String RESPONSES = "Responses";
    private static final List<String> SITTING = List.of("patient", "completed_on", "side", "episode");
    private static final int SCORE_WIDTH = 13;

    private EntryForm() {}

    /** A column of the form: of the sitting, of a response, or of a score that the form computes. */
    record Field(
            String heading, Optional<Instrument> instrument, Optional<Column> column, Optional<FormScoreColumn> score) {
        static Field of(String heading) {
            return new Field(heading, Optional.empty(), Optional.empty(), Optional.empty());
        }

        static Field of(Instrument instrument, Column column) {
            return new Field(column.name(), Optional.of(instrument), Optional.of(column), Optional.empty());
        }

        static Field of(FormScoreColumn score) {
            return new Field(score.heading(), Optional.of(score.instrument()), Optional.empty(), Optional.of(score));
        }
    }

    /** Headings that a person fills in, in order: those of the sitting, then every response column of the instruments. */
    public static List<String> headings(List<Instrument> instruments) {
        return fields(instruments).stream()
                .filter(f -> f.score().isEmpty())
                .map(Field::heading)
                .toList();
    }

    /** Every column: those of the sitting, then of each instrument its responses and its scores. */
    static List<Field> fields(List<Instrument> instruments) {
        List<Field> fields = new ArrayList<>();
        SITTING.forEach(name -> fields.add(Field.of(name)));
        for (Instrument instrument : instruments) {
            instrument.columns().forEach(c -> fields.add(Field.of(instrument, c)));
            FormScoreColumn.of(instrument).forEach(c -> fields.add(Field.of(c)));
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
        write(instruments, ROWS, made, scratch, out);
    }

    /** As above, with that many rows. */
    static void write(List<Instrument> instruments, int rows, LocalDate made, Path scratch, OutputStream out)
            throws IOException {
        StreamingWorkbook.write(made, scratch, out, book -> {
            List<Field> fields = fields(instruments);
            EntryScores scores = EntryScores.of(fields);
            SXSSFSheet sheet = responses(book, fields, scores, rows);
            EntryBlanks.write(book, fields, rows);
            Set<String> onPaper = EntryPrint.write(book, instruments, fields, rows);
            EntryCodes codes = EntryCodes.write(book, instruments);
            EntryChecks.add(book, sheet, fields, codes, rows);
            EntryHelp.write(book, instruments, rows);
            scores.write(book, rows);
            book.printNone(onPaper);
            book.recalculateOnOpening();
        });
    }

    private static SXSSFSheet responses(StreamingWorkbook book, List<Field> fields, EntryScores scores, int rows) {
        SXSSFSheet sheet = book.sheet(RESPONSES);
        XSSFSheet template = book.inMemory().getSheet(RESPONSES);
        Row header = sheet.createRow(0);
        int lines = 1;
        for (int i = 0; i < fields.size(); i++) {
            Field field = fields.get(i);
            Cell cell = header.createCell(i);
            cell.setCellValue(field.heading());
            cell.setCellStyle(book.styles().header);
            SheetNotes.byLibrary(template, 0, i, note(field));
            int width = field.score().isPresent()
                    ? SCORE_WIDTH
                    : Math.max(9, field.heading().length() + 3);
            sheet.setColumnWidth(i, width * 256);
            lines = Math.max(lines, Layout.lines(field.heading(), width - 2));
            template.setDefaultColumnStyle(i, style(book, field));
        }
        Layout.height(header, lines);
        List<String> formulas = fields.stream()
                .map(f -> f.score().map(scores::formula).orElse(""))
                .toList();
        for (int row = 1; row <= rows; row++) {
            Row cells = sheet.createRow(row);
            String number = String.valueOf(row + 1);
            for (int i = 0; i < fields.size(); i++) {
                if (!formulas.get(i).isEmpty()) {
                    Cell cell = cells.createCell(i);
                    FilledDownFormulas.set(cell, formulas.get(i).replace("#", number));
                    cell.setCellStyle(book.styles().computed);
                }
            }
        }
        StreamingWorkbook.freeze(sheet, SITTING.size(), 0);
        book.lock(sheet);
        return sheet;
    }

    private static CellStyle style(StreamingWorkbook book, Field field) {
        return switch (field.heading()) {
            case "patient", "episode" -> book.styles().typedText; // keeps the leading zeros of an id
            case "completed_on" -> book.styles().typedDate; // an ISO date whatever the country
            default -> field.score().isPresent() ? book.styles().computed : book.styles().typed;
        };
    }

    private static String note(Field field) {
        return switch (field.heading()) {
            case "patient" -> "Pseudonymous id. Never a name. Leading zeros are kept.";
            case "completed_on" -> "Day on which the form was filled in, such as 2026-03-09.";
            case "side" -> "right, left or both: the hand the form is about. Blank if not known.";
            case "episode" -> "Id of the treatment, as in the table of episodes. May be left blank.";
            default ->
                field.score()
                        .map(EntryForm::meaning)
                        .or(() -> field.column()
                                .map(c -> topic(c) + "\n" + allowed(c)
                                        + c.item().note().map(n -> "\n" + n).orElse("")))
                        .orElse("");
        };
    }

    private static String meaning(FormScoreColumn score) {
        return score.scale().title()
                + score.hand()
                        .map(h -> h == Side.BOTH ? ", both hands averaged" : ", " + h.code() + " hand")
                        .orElse("")
                + ", "
                + range(score.scale().range().low(), score.scale().range().high()) + ", "
                + score.scale().better().code() + " is better.\n"
                + score.shows().meaning()
                + " Computed; not to be typed into.";
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
