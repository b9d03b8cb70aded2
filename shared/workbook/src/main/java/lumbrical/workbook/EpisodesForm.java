package lumbrical.workbook;

import java.io.IOException;
import java.io.OutputStream;
import java.nio.file.Path;
import java.time.LocalDate;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.Set;
import lumbrical.catalogue.Catalogue;
import lumbrical.condition.Condition;
import lumbrical.intake.EpisodeReader;
import lumbrical.sheetxml.SheetNotes;
import org.apache.poi.ss.usermodel.Cell;
import org.apache.poi.ss.usermodel.CellStyle;
import org.apache.poi.ss.usermodel.DataValidation;
import org.apache.poi.ss.usermodel.DataValidationConstraint;
import org.apache.poi.ss.usermodel.DataValidationConstraint.OperatorType;
import org.apache.poi.ss.usermodel.DataValidationConstraint.ValidationType;
import org.apache.poi.ss.usermodel.DataValidationHelper;
import org.apache.poi.ss.usermodel.Row;
import org.apache.poi.ss.util.CellRangeAddressList;
import org.apache.poi.xssf.streaming.SXSSFSheet;
import org.apache.poi.xssf.usermodel.XSSFSheet;

/**
 * An empty workbook for the table of episodes: a row is one treated side and treatment. Its first sheet holds the table and nothing
 * else, so that it is read as it is; help and lists stand on sheets of their own.
 */
public final class EpisodesForm {
    /** Rows prepared with checks. */
    static final int ROWS = 500;
    /** Rows with lines to write on, as many as a page holds. */
    private static final int PRINTED_ROWS = 26;

    private static final float LINE_POINTS = 24;

    static final String EPISODES = "Episodes";
    private static final String LISTS = "Lists";
    private static final int HELP_WIDTH = 100;

    /**
     * A column of the form.
     *
     * @param name its heading
     * @param required whether an episode is of no use without it
     * @param width its width in characters
     * @param meaning what stands in it, in words
     * @param error what is told of an entry that is not allowed; empty: everything is allowed
     */
    private record Field(String name, boolean required, int width, String meaning, Optional<String> error) {
        static Field required(String name, int width, String meaning, String error) {
            return new Field(name, true, width, meaning, Optional.of(error));
        }

        static Field checked(String name, int width, String meaning, String error) {
            return new Field(name, false, width, meaning, Optional.of(error));
        }

        static Field free(String name, int width, String meaning) {
            return new Field(name, false, width, meaning, Optional.empty());
        }
    }

    private static final List<Field> FIELDS = List.of(
            new Field(
                    "patient",
                    true,
                    12,
                    "Pseudonymous id, the same as in the responses. Never a name. Leading zeros are kept.",
                    Optional.empty()),
            new Field(
                    "episode",
                    true,
                    12,
                    "Name of the treatment, unique within the patient, such as E1. A revision is a new episode; two treated"
                            + " sides are two episodes.",
                    Optional.empty()),
            Field.required("treated_side", 14, "right or left: the treated hand.", "Choose right or left."),
            Field.required(
                    "index_date",
                    13,
                    "Day of the operation or the start of treatment, such as 2026-03-09. Visits are counted from it.",
                    "Type a date, such as 2026-03-09."),
            Field.checked(
                    "dominant_side",
                    15,
                    "The hand that the patient mostly uses: right, left or both.",
                    "Choose right, left or both, or leave it blank."),
            Field.checked("sex", 11, "female, male, other or unknown.", "Choose one of the list, or leave it blank."),
            Field.checked(
                    "birth_year",
                    12,
                    "Four digits, never the whole date of birth.",
                    "Type a year of four digits, from 1880 to this year, or leave it blank."),
            Field.free(
                    "condition",
                    34,
                    "What is treated. The list holds the conditions that are known, by which results are grouped and"
                            + " thresholds chosen; synonyms and ICD-10 codes are known too. Any other text is a group of"
                            + " its own and gets the general thresholds."),
            Field.free("procedure", 26, "What is done, in your own words."),
            Field.free(
                    "forms",
                    26,
                    "Ids of the instruments expected of this episode, separated by blanks. The list"
                            + " gives them one at a time. Blank: those of the schedule, or those of the baseline."),
            Field.checked(
                    "closed_on",
                    13,
                    "Day after which nothing is asked for, such as 2026-03-09. Blank while the episode is open.",
                    "Type a date that is not before the index date, such as 2026-03-09."),
            Field.checked(
                    "closed_reason",
                    15,
                    "died, withdrawn, moved, revision or other.",
                    "Choose one of the list, or leave it blank."),
            Field.checked(
                    "share",
                    9,
                    "no: a registry upload leaves the episode out. yes or blank: it may be uploaded.",
                    "Choose yes or no, or leave it blank."));

    private final StreamingWorkbook book;
    private final SXSSFSheet sheet;
    private final DataValidationHelper helper;

    private EpisodesForm(StreamingWorkbook book) {
        this.book = book;
        this.sheet = book.sheet(EPISODES);
        this.helper = sheet.getDataValidationHelper();
    }

    /** Headings of the form, in order. */
    public static List<String> headings() {
        return FIELDS.stream().map(Field::name).toList();
    }

    /**
     * Writes the form.
     *
     * @param catalogue the instruments and conditions that its lists offer
     * @param made the day of making, written into the file's properties
     * @param scratch a folder for temporary files, which the caller removes
     * @throws IOException if it cannot be written
     */
    public static void write(Catalogue catalogue, LocalDate made, Path scratch, OutputStream out) throws IOException {
        StreamingWorkbook.write(made, scratch, out, book -> {
            EpisodesForm form = new EpisodesForm(book);
            form.table();
            form.check(catalogue);
            form.help();
            book.printNone(Set.of(EPISODES));
            book.recalculateOnOpening();
        });
    }

    private void table() {
        XSSFSheet template = book.inMemory().getSheet(EPISODES);
        Row header = sheet.createRow(0);
        header.setHeightInPoints(20);
        for (int i = 0; i < FIELDS.size(); i++) {
            Field field = FIELDS.get(i);
            Cell cell = header.createCell(i);
            cell.setCellValue(field.name());
            cell.setCellStyle(book.styles().header);
            SheetNotes.byLibrary(template, 0, i, inWords(field));
            sheet.setColumnWidth(i, field.width() * 256);
            template.setDefaultColumnStyle(i, style(field));
        }
        for (int row = 1; row <= PRINTED_ROWS; row++) {
            Row cells = sheet.createRow(row);
            cells.setHeightInPoints(LINE_POINTS);
            for (int i = 0; i < FIELDS.size(); i++) {
                cells.createCell(i).setCellStyle(lined(FIELDS.get(i)));
            }
        }
        StreamingWorkbook.freeze(sheet, 2, 0);
        book.printRows(sheet, FIELDS.size() - 1, PRINTED_ROWS);
    }

    private CellStyle style(Field field) {
        return switch (field.name()) {
            case "index_date", "closed_on" -> book.styles().typedDate;
            case "birth_year" -> book.styles().typed;
            default -> book.styles().typedText;
        };
    }

    private CellStyle lined(Field field) {
        return switch (field.name()) {
            case "index_date", "closed_on" -> book.styles().linedDate;
            case "birth_year" -> book.styles().lined;
            default -> book.styles().linedText;
        };
    }

    private static String inWords(Field field) {
        return (field.required() ? "Required. " : "") + field.meaning();
    }

    /** Checks and lists of each column, and the sheet that holds the lists. */
    private void check(Catalogue catalogue) {
        List<List<String>> lists = new ArrayList<>();
        for (int i = 0; i < FIELDS.size(); i++) {
            Field field = FIELDS.get(i);
            Optional<DataValidationConstraint> constraint =
                    switch (field.name()) {
                        case "index_date" ->
                            Optional.of(helper.createDateConstraint(
                                    OperatorType.BETWEEN, "DATE(1990,1,1)", "DATE(2199,12,31)", "yyyy-mm-dd"));
                        case "closed_on" ->
                            Optional.of(helper.createDateConstraint(
                                    OperatorType.BETWEEN, "MAX($D2,DATE(1990,1,1))", "DATE(2199,12,31)", "yyyy-mm-dd"));
                        case "birth_year" ->
                            Optional.of(helper.createNumericConstraint(
                                    ValidationType.INTEGER, OperatorType.BETWEEN, "1880", "YEAR(TODAY())"));
                        default ->
                            list(field, catalogue).map(values -> {
                                lists.add(values);
                                String letters = TableSheet.letters(lists.size() - 1);
                                return helper.createFormulaListConstraint(
                                        LISTS + "!$" + letters + "$2:$" + letters + "$" + values.size());
                            });
                    };
            int position = i;
            constraint.ifPresent(c -> check(position, field, c));
        }
        writeLists(lists);
    }

    /** Heading and values of a column that has a list. */
    private static Optional<List<String>> list(Field field, Catalogue catalogue) {
        List<String> values =
                switch (field.name()) {
                    case "treated_side" -> List.of("right", "left");
                    case "dominant_side" -> List.of("right", "left", "both");
                    case "sex" -> List.of("female", "male", "other", "unknown");
                    case "share" -> List.of("yes", "no");
                    case "closed_reason" -> EpisodeReader.closureReasons();
                    case "condition" ->
                        catalogue.conditions().conditions().stream()
                                .map(Condition::label)
                                .toList();
                    case "forms" ->
                        catalogue.ids().stream().map(Object::toString).toList();
                    default -> List.of();
                };
        List<String> withHeading = new ArrayList<>(List.of(field.name()));
        withHeading.addAll(values);
        return values.isEmpty() ? Optional.empty() : Optional.of(withHeading);
    }

    private void check(int position, Field field, DataValidationConstraint constraint) {
        DataValidation check =
                helper.createValidation(constraint, new CellRangeAddressList(1, ROWS, position, position));
        check.setEmptyCellAllowed(true);
        check.setShowErrorBox(field.error().isPresent()); // a hint stops nobody
        field.error().ifPresent(error -> check.createErrorBox(field.name(), error));
        check.setErrorStyle(DataValidation.ErrorStyle.STOP);
        check.setShowPromptBox(true);
        check.createPromptBox(field.name(), EntryChecks.promptText(inWords(field)));
        sheet.addValidationData(check);
    }

    private void writeLists(List<List<String>> lists) {
        SXSSFSheet all = book.sheet(LISTS);
        int longest = lists.stream().mapToInt(List::size).max().orElse(0);
        for (int row = 0; row < longest; row++) {
            Row cells = all.createRow(row);
            for (int i = 0; i < lists.size(); i++) {
                if (row < lists.get(i).size()) {
                    Cell cell = cells.createCell(i);
                    cell.setCellValue(lists.get(i).get(row));
                    cell.setCellStyle(row == 0 ? book.styles().header : book.styles().plain);
                }
            }
        }
        for (int i = 0; i < lists.size(); i++) {
            int widest = lists.get(i).stream().mapToInt(String::length).max().orElse(0);
            all.setColumnWidth(i, (widest + 4) * 256);
        }
        StreamingWorkbook.freeze(all, 0, 0);
        book.lock(all);
    }

    private void help() {
        SXSSFSheet help = book.sheet("Help");
        help.setColumnWidth(0, 18 * 256);
        help.setColumnWidth(1, HELP_WIDTH * 256);
        List<List<String>> lines = new ArrayList<>();
        lines.add(List.of(
                "",
                "Type on the sheet Episodes: one row for each treated side and treatment. The headings stay as they"
                        + " are; columns of your own may be added to the right."));
        lines.add(List.of(
                "",
                "Dates are shown as 2026-03-09, whatever the country. The first " + ROWS
                        + " rows are checked while you type; every row is checked again when the file is read."));
        lines.add(List.of("", "Never type a name or a birth date. Keep the list of ids apart from this file."));
        lines.add(List.of(
                "",
                "Use the saved file as it is as the table of episodes; the first sheet is read, the others are"
                        + " not."));
        FIELDS.forEach(field -> lines.add(List.of(field.name(), inWords(field))));
        Row title = help.createRow(0);
        title.setHeightInPoints(Page.TITLE_POINTS);
        Cell heading = title.createCell(0);
        heading.setCellValue("How to fill in the table of episodes");
        heading.setCellStyle(book.styles().title);
        for (int i = 0; i < lines.size(); i++) {
            Row cells = help.createRow(i + 1);
            for (int c = 0; c < 2; c++) {
                Cell cell = cells.createCell(c);
                cell.setCellValue(lines.get(i).get(c));
                cell.setCellStyle(book.styles().wrapped);
            }
            Layout.height(cells, Layout.lines(lines.get(i).get(1), HELP_WIDTH));
        }
        StreamingWorkbook.freeze(help, 0, 0);
        book.lock(help);
    }
}
