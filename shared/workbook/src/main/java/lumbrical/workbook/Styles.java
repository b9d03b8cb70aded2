package lumbrical.workbook;

import java.util.EnumMap;
import java.util.Map;
import lumbrical.change.Verdict;
import lumbrical.output.OutputColumn;
import lumbrical.output.Value;
import org.apache.poi.ss.usermodel.BorderStyle;
import org.apache.poi.ss.usermodel.CellStyle;
import org.apache.poi.ss.usermodel.FillPatternType;
import org.apache.poi.ss.usermodel.HorizontalAlignment;
import org.apache.poi.ss.usermodel.VerticalAlignment;
import org.apache.poi.xssf.usermodel.XSSFCellStyle;
import org.apache.poi.xssf.usermodel.XSSFColor;
import org.apache.poi.xssf.usermodel.XSSFFont;
import org.apache.poi.xssf.usermodel.XSSFWorkbook;

/** The few cell styles of a workbook. Blue is better and orange is worse, told apart in grey print and by colour-blind eyes. */
final class Styles {
    static final byte[] PALE_ORANGE = rgb(0xFB, 0xE8, 0xD3);
    static final byte[] WHITE = rgb(0xFF, 0xFF, 0xFF);
    /** The worst end of a scale in the sheet of courses. */
    static final byte[] SLATE = rgb(0x9F, 0xB2, 0xC1);

    private static final byte[] INK = rgb(0x22, 0x2B, 0x38);
    private static final byte[] MUTED = rgb(0x5B, 0x67, 0x74);
    private static final byte[] HEAD = rgb(0xDD, 0xE5, 0xEA);
    private static final byte[] SHADE = rgb(0xF0, 0xF3, 0xF5);
    private static final byte[] STRONG_BLUE = rgb(0x9E, 0xC5, 0xE8);
    private static final byte[] PALE_BLUE = rgb(0xE3, 0xEE, 0xF8);
    private static final byte[] STRONG_ORANGE = rgb(0xE9, 0x9A, 0x52);
    /** Not {@code 0.##}, which shows 3.004 as {@code 3.}. */
    private static final String DECIMALS = "0.0#";

    private static final String DAY = "yyyy-mm-dd";

    private final XSSFWorkbook book;
    final CellStyle plain;
    final CellStyle number;
    final CellStyle whole;
    /** One decimal, and two: for columns whose numbers all have as many. */
    final CellStyle oneDecimal;

    final CellStyle twoDecimals;
    /** Texts that stand right, such as intervals beside numbers. */
    final CellStyle right;

    final CellStyle date;
    final CellStyle header;
    final CellStyle headerRight;
    final CellStyle title;
    final CellStyle section;
    final CellStyle wrapped;
    final CellStyle caution;
    final CellStyle input;
    final CellStyle strong;
    final CellStyle strongRight;
    final CellStyle figure;
    final CellStyle figureName;
    /** Small text pictures. */
    final CellStyle picture;
    /** Cells that a person types into. */
    final CellStyle typed;

    final CellStyle typedText;
    final CellStyle typedDate;
    /** The same with lines, to be written on by hand too. */
    final CellStyle lined;

    final CellStyle linedText;
    final CellStyle linedDate;
    /** Lines of a form on paper. */
    final CellStyle printed;

    /** Every second of them, so that the eye finds the box at its end. */
    final CellStyle printedShaded;

    final CellStyle printedRight;
    /** Boxes on paper, and the one that a person types into. */
    final CellStyle box;

    final CellStyle boxDate;
    final CellStyle typedBox;
    /** Cells that a formula fills beside those that a person types into. */
    final CellStyle computed;

    private final Map<Verdict, CellStyle> verdicts = new EnumMap<>(Verdict.class);

    Styles(XSSFWorkbook book) {
        this.book = book;
        XSSFFont regular = font(false, 10, INK);
        XSSFFont bold = font(true, 10, INK);
        plain = left(style(regular));
        number = format(style(regular), DECIMALS);
        whole = format(style(regular), "0");
        oneDecimal = format(style(regular), "0.0");
        twoDecimals = format(style(regular), "0.00");
        right = style(regular);
        right.setAlignment(HorizontalAlignment.RIGHT);
        date = left(format(style(regular), DAY));
        header = left(filled(style(bold), HEAD));
        header.setWrapText(true);
        header.setBorderBottom(BorderStyle.THIN);
        headerRight = book.createCellStyle();
        headerRight.cloneStyleFrom(header);
        headerRight.setIndention((short) 0);
        headerRight.setAlignment(HorizontalAlignment.RIGHT);
        title = style(font(true, 16, INK));
        section = style(font(true, 12, INK));
        wrapped = left(style(regular));
        wrapped.setWrapText(true);
        caution = left(filled(style(regular), PALE_ORANGE));
        caution.setVerticalAlignment(VerticalAlignment.CENTER);
        strong = left(style(bold));
        strongRight = style(bold);
        figure = left(filled(style(font(true, 16, INK)), PALE_BLUE));
        figureName = left(filled(style(font(false, 9, MUTED)), PALE_BLUE));
        figureName.setWrapText(true);
        picture = left(style(font(false, 10, rgb(0x2F, 0x5F, 0x8A))));
        typed = style(regular);
        typedText = format(style(regular), "@");
        typedDate = format(style(regular), DAY);
        typed.setLocked(false);
        typedText.setLocked(false);
        typedDate.setLocked(false);
        lined = withLines(typed);
        linedText = withLines(typedText);
        linedDate = withLines(typedDate);
        computed = filled(style(regular), PALE_BLUE);
        computed.setDataFormat(book.createDataFormat().getFormat(DECIMALS));
        printed = left(style(regular));
        printed.setWrapText(true);
        printed.setVerticalAlignment(VerticalAlignment.CENTER);
        XSSFCellStyle shade = book.createCellStyle();
        shade.cloneStyleFrom(printed);
        printedShaded = filled(shade, SHADE);
        printedRight = style(regular);
        printedRight.setAlignment(HorizontalAlignment.RIGHT);
        printedRight.setVerticalAlignment(VerticalAlignment.CENTER);
        box = boxed(style(regular));
        boxDate = boxed(format(style(regular), DAY));
        typedBox = boxed(filled(style(bold), PALE_BLUE));
        typedBox.setLocked(false);
        input = left(filled(style(font(true, 11, INK)), PALE_BLUE));
        input.setBorderBottom(BorderStyle.THIN);
        input.setBorderTop(BorderStyle.THIN);
        input.setBorderLeft(BorderStyle.THIN);
        input.setBorderRight(BorderStyle.THIN);
        verdicts.put(Verdict.IMPORTANT_IMPROVEMENT, left(filled(style(bold), STRONG_BLUE)));
        verdicts.put(Verdict.IMPROVEMENT_WITHIN_ERROR, left(filled(style(regular), PALE_BLUE)));
        verdicts.put(Verdict.SMALL_IMPROVEMENT, left(filled(style(regular), PALE_BLUE)));
        verdicts.put(Verdict.SMALL_WORSENING, left(filled(style(regular), PALE_ORANGE)));
        verdicts.put(Verdict.WORSENING_WITHIN_ERROR, left(filled(style(regular), PALE_ORANGE)));
        verdicts.put(Verdict.IMPORTANT_WORSENING, left(filled(style(bold), STRONG_ORANGE)));
        verdicts.values().forEach(style -> style.setWrapText(true));
    }

    /** The style of a verdict, whose words go on over several lines. */
    CellStyle of(Verdict verdict) {
        return verdicts.getOrDefault(verdict, wrapped);
    }

    /** The usual style of what stands alone in a cell. */
    CellStyle of(Value value) {
        if (value instanceof Value.Number number) {
            return number.value() == Math.rint(number.value()) ? whole : this.number;
        }
        return value instanceof Value.Day day && TableSheet.dated(day) ? date : plain;
    }

    /** Headings of numbers stand right, as the numbers do. */
    CellStyle heading(OutputColumn.Kind kind) {
        return switch (kind) {
            case NUMBER, COUNT -> headerRight;
            case TEXT, DATE -> header;
        };
    }

    /** Calls for action, or leaves the cell plain. */
    CellStyle urgent(boolean urgent) {
        return urgent ? of(Verdict.WORSENING_WITHIN_ERROR) : plain;
    }

    private XSSFFont font(boolean bold, int points, byte[] colour) {
        XSSFFont font = book.createFont();
        font.setFontName("Calibri");
        font.setFontHeightInPoints((short) points);
        font.setBold(bold);
        font.setColor(new XSSFColor(colour));
        return font;
    }

    private XSSFCellStyle style(XSSFFont font) {
        XSSFCellStyle style = book.createCellStyle();
        style.setFont(font);
        style.setVerticalAlignment(VerticalAlignment.TOP);
        return style;
    }

    private static CellStyle left(CellStyle style) {
        style.setAlignment(HorizontalAlignment.LEFT);
        style.setIndention((short) 1);
        return style;
    }

    private static CellStyle boxed(CellStyle style) {
        style.setAlignment(HorizontalAlignment.CENTER);
        style.setVerticalAlignment(VerticalAlignment.CENTER);
        style.setBorderBottom(BorderStyle.THIN);
        style.setBorderTop(BorderStyle.THIN);
        style.setBorderLeft(BorderStyle.THIN);
        style.setBorderRight(BorderStyle.THIN);
        return style;
    }

    private CellStyle withLines(CellStyle plainer) {
        XSSFCellStyle lines = book.createCellStyle();
        lines.cloneStyleFrom(plainer);
        lines.setBorderBottom(BorderStyle.THIN);
        lines.setBorderTop(BorderStyle.THIN);
        lines.setBorderLeft(BorderStyle.THIN);
        lines.setBorderRight(BorderStyle.THIN);
        return lines;
    }

    private CellStyle format(CellStyle style, String format) {
        style.setDataFormat(book.createDataFormat().getFormat(format));
        return style;
    }

    private static CellStyle filled(XSSFCellStyle style, byte[] colour) {
        style.setFillForegroundColor(new XSSFColor(colour));
        style.setFillPattern(FillPatternType.SOLID_FOREGROUND);
        return style;
    }

    static byte[] rgb(int red, int green, int blue) {
        return new byte[] {(byte) red, (byte) green, (byte) blue};
    }
}
