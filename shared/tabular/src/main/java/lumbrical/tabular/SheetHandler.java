package lumbrical.tabular;

import java.math.BigDecimal;
import java.time.LocalDateTime;
import java.time.LocalTime;
import java.util.ArrayList;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.regex.Pattern;
import lumbrical.problem.Place;
import org.apache.poi.ss.usermodel.DateUtil;
import org.apache.poi.xssf.model.StylesTable;
import org.apache.poi.xssf.usermodel.XSSFCellStyle;
import org.xml.sax.Attributes;
import org.xml.sax.SAXException;
import org.xml.sax.helpers.DefaultHandler;

/** Turns the events of a sheet's XML into rows of texts. */
final class SheetHandler extends DefaultHandler {
    private final Input input;
    private final SharedTexts texts;
    private final StylesTable styles;
    private final boolean from1904;
    private final CountedInput sheet;
    private final TableSink sink;

    private final List<String> cells = new ArrayList<>();
    private final StringBuilder content = new StringBuilder();
    private int row;
    private int column;
    private String type = "";
    private int style;
    private boolean inValue;
    private boolean inCell;
    private boolean phonetic;
    private boolean formula;
    /** By style: how many digits its cells show at least. */
    private final Map<Integer, Integer> zeros = new HashMap<>();

    private static final Pattern PADDED = Pattern.compile("0{2,}");

    /** Carries a refusal out of the parser. */
    static final class Stop extends RuntimeException {
        private static final long serialVersionUID = 1L;
        private final transient UnreadableInputException reason;

        Stop(UnreadableInputException reason) {
            this.reason = reason;
        }

        UnreadableInputException reason() {
            return reason;
        }
    }

    /** Carries a failure of whoever takes the rows out of the parser, so that it is not told as a fault of the workbook. */
    static final class SinkFailure extends RuntimeException {
        private static final long serialVersionUID = 1L;
        private final RuntimeException failure;

        SinkFailure(RuntimeException failure) {
            super(failure);
            this.failure = failure;
        }

        RuntimeException failure() {
            return failure;
        }
    }

    SheetHandler(
            Input input, SharedTexts texts, StylesTable styles, boolean from1904, CountedInput sheet, TableSink sink) {
        this.input = input;
        this.texts = texts;
        this.styles = styles;
        this.from1904 = from1904;
        this.sheet = sheet;
        this.sink = sink;
    }

    @Override
    public void startElement(String uri, String name, String qualified, Attributes attributes) throws SAXException {
        switch (local(qualified)) {
            case "row" -> startRow(attributes);
            case "c" -> startCell(attributes);
            case "v" -> startValue();
            case "t" -> inValue = inCell && !phonetic;
            case "rPh" -> phonetic = true; // how a text is read aloud is no part of it
            case "f" -> {
                formula = true;
                sink.remark(TableSink.Remark.FORMULA_CELL, row, column);
            }
            default -> {}
        }
    }

    /** The name without the prefix that some programs write. */
    private static String local(String qualified) {
        int prefix = qualified.indexOf(':');
        return prefix < 0 ? qualified : qualified.substring(prefix + 1);
    }

    private void startRow(Attributes attributes) {
        int number = whole(attributes.getValue("r"), row + 1);
        if (number > Limits.SHEET_ROWS || number <= row) {
            throw stop("a row with the number " + number + ". A sheet has at most " + Limits.SHEET_ROWS
                    + " rows, in order.");
        }
        row = number;
        column = -1;
        cells.clear();
        String hidden = attributes.getValue("hidden");
        if ("1".equals(hidden) || "true".equals(hidden)) {
            sink.remark(TableSink.Remark.HIDDEN_ROW, row, -1);
        }
    }

    private void startCell(Attributes attributes) {
        inCell = true;
        formula = false;
        content.setLength(0);
        column = column(attributes.getValue("r"));
        type = Optional.ofNullable(attributes.getValue("t")).orElse("n");
        style = whole(attributes.getValue("s"), 0);
    }

    private void startValue() {
        inValue = true;
        content.setLength(0);
    }

    private int column(String reference) {
        if (reference == null) {
            return column + 1;
        }
        int number = 0;
        for (int i = 0; i < reference.length() && Character.isLetter(reference.charAt(i)); i++) {
            number = number * 26 + (Character.toUpperCase(reference.charAt(i)) - 'A' + 1);
            if (number > Limits.COLUMNS) {
                throw stop("more than " + Limits.COLUMNS + " columns. This is no table of responses.");
            }
        }
        return Math.max(number - 1, 0);
    }

    private static int whole(String text, int whenAbsent) {
        if (text == null || text.isEmpty() || text.length() > 9) {
            return text == null || text.isEmpty() ? whenAbsent : Integer.MAX_VALUE;
        }
        try {
            return Integer.parseInt(text);
        } catch (NumberFormatException e) {
            return whenAbsent;
        }
    }

    @Override
    public void characters(char[] text, int start, int length) {
        if (inValue) {
            if (content.length() + length > Limits.CELL_CHARACTERS) {
                throw stop("a cell of more than " + Limits.CELL_CHARACTERS + " characters.");
            }
            content.append(text, start, length);
        }
    }

    @Override
    public void endElement(String uri, String name, String qualified) {
        switch (local(qualified)) {
            case "v", "t" -> inValue = false;
            case "rPh" -> phonetic = false;
            case "c" -> endCell();
            case "row" -> endRow();
            default -> {}
        }
    }

    private void endRow() {
        try {
            sink.row(row, cells);
        } catch (IllegalArgumentException | IllegalStateException | IndexOutOfBoundsException e) {
            throw new SinkFailure(e);
        }
        if (row % TableSink.ROWS_BETWEEN == 0) {
            sink.at(sheet.share());
        }
    }

    private void endCell() {
        inCell = false;
        while (cells.size() <= column) {
            cells.add("");
        }
        cells.set(column, text());
    }

    private String text() {
        String value = content.toString();
        if (value.isEmpty()) {
            return formula && !type.equals("str") ? Cells.NOT_CALCULATED : "";
        }
        return switch (type) {
            case "s" -> shared(value);
            case "b" -> value.equals("1") ? "TRUE" : "FALSE";
            case "n" -> number(value);
            default -> value;
        };
    }

    private String shared(String index) {
        return texts.text(whole(index, -1))
                .orElseThrow(() -> stop("a cell points to a text that the workbook does not hold."));
    }

    private String number(String value) {
        if (isPlainWhole(value) && !isDate()) {
            return whole(value);
        }
        double number;
        try {
            number = Double.parseDouble(value);
        } catch (NumberFormatException e) {
            return value;
        }
        return isDate() && DateUtil.isValidExcelDate(number) ? date(number) : whole(plain(number));
    }

    /** The number as it is read; remarks if its cell shows more digits. */
    private String whole(String number) {
        if (style > 0 && number.length() < zeros.computeIfAbsent(style, this::zerosShown)) {
            sink.remark(TableSink.Remark.LEADING_ZEROS, row, column);
        }
        return number;
    }

    /** Whether a number stands there as {@link #plain} prints it: what almost every cell of responses holds. */
    private static boolean isPlainWhole(String value) {
        if (value.length() > 15 || value.charAt(0) == '0' && value.length() > 1) {
            return false;
        }
        for (int i = 0; i < value.length(); i++) {
            if (value.charAt(i) < '0' || value.charAt(i) > '9') {
                return false;
            }
        }
        return true;
    }

    /** How many digits a format of nothing but zeros shows at least; 0 for every other. */
    private int zerosShown(int ofStyle) {
        XSSFCellStyle format = ofStyle < styles.getNumCellStyles() ? styles.getStyleAt(ofStyle) : null;
        String text = format == null ? "" : String.valueOf(format.getDataFormatString());
        return PADDED.matcher(text).matches() ? text.length() : 0;
    }

    private boolean isDate() {
        if (style <= 0 || style >= styles.getNumCellStyles()) {
            return false;
        }
        XSSFCellStyle format = styles.getStyleAt(style);
        return format != null && DateUtil.isADateFormat(format.getDataFormat(), format.getDataFormatString());
    }

    private String date(double number) {
        LocalDateTime moment = DateUtil.getLocalDateTime(number, from1904, true);
        return moment.toLocalTime().equals(LocalTime.MIDNIGHT)
                ? moment.toLocalDate().toString()
                : moment.toString();
    }

    private static String plain(double number) {
        return number == Math.rint(number) && Math.abs(number) < 1e15
                ? Long.toString((long) number)
                : new BigDecimal(Double.toString(number)).toPlainString();
    }

    private Stop stop(String message) {
        return new Stop(new UnreadableInputException(row == 0 ? input.place() : Place.of(input.name(), row), message));
    }
}
