package org.handoutcomes.workbook;

import java.util.EnumMap;
import java.util.Map;
import org.apache.poi.ss.usermodel.BorderStyle;
import org.apache.poi.ss.usermodel.CellStyle;
import org.apache.poi.ss.usermodel.FillPatternType;
import org.apache.poi.ss.usermodel.HorizontalAlignment;
import org.apache.poi.ss.usermodel.VerticalAlignment;
import org.apache.poi.xssf.usermodel.XSSFCellStyle;
import org.apache.poi.xssf.usermodel.XSSFColor;
import org.apache.poi.xssf.usermodel.XSSFFont;
import org.apache.poi.xssf.usermodel.XSSFWorkbook;
import org.handoutcomes.followup.Change;

/** The few cell styles of a workbook. Blue is better and orange is worse, told apart in grey print and by colour-blind eyes. */
final class Styles {
    private static final byte[] INK = rgb(0x22, 0x2B, 0x38);
    private static final byte[] HEAD = rgb(0xDD, 0xE5, 0xEA);
    private static final byte[] STRONG_BLUE = rgb(0x9E, 0xC5, 0xE8);
    private static final byte[] PALE_BLUE = rgb(0xE3, 0xEE, 0xF8);
    private static final byte[] STRONG_ORANGE = rgb(0xE0, 0x8A, 0x3C);
    private static final byte[] PALE_ORANGE = rgb(0xF8, 0xDC, 0xC0);

    private final XSSFWorkbook book;
    final CellStyle plain;
    final CellStyle number;
    final CellStyle whole;
    final CellStyle date;
    final CellStyle header;
    final CellStyle headerRight;
    final CellStyle title;
    final CellStyle section;
    final CellStyle wrapped;
    final CellStyle caution;
    final CellStyle percent;
    final CellStyle input;
    private final Map<Change.Verdict, CellStyle> verdicts = new EnumMap<>(Change.Verdict.class);

    Styles(XSSFWorkbook book) {
        this.book = book;
        plain = style(false, 10);
        plain.setIndention((short) 1);
        number = style(false, 10);
        number.setDataFormat(book.createDataFormat().getFormat("0.##"));
        whole = style(false, 10);
        whole.setDataFormat(book.createDataFormat().getFormat("0"));
        percent = style(false, 10);
        percent.setDataFormat(book.createDataFormat().getFormat("0.0"));
        date = style(false, 10);
        date.setDataFormat(book.createDataFormat().getFormat("yyyy-mm-dd"));
        date.setAlignment(HorizontalAlignment.LEFT);
        date.setIndention((short) 1);
        header = filled(style(true, 10), HEAD);
        header.setIndention((short) 1);
        header.setWrapText(true);
        header.setVerticalAlignment(VerticalAlignment.TOP);
        header.setBorderBottom(BorderStyle.THIN);
        headerRight = book.createCellStyle();
        headerRight.cloneStyleFrom(header);
        headerRight.setAlignment(HorizontalAlignment.RIGHT);
        title = style(true, 16);
        section = style(true, 12);
        wrapped = style(false, 10);
        wrapped.setWrapText(true);
        wrapped.setVerticalAlignment(VerticalAlignment.TOP);
        caution = filled(style(false, 10), PALE_ORANGE);
        caution.setWrapText(true);
        caution.setVerticalAlignment(VerticalAlignment.TOP);
        input = filled(style(true, 11), PALE_BLUE);
        input.setBorderBottom(BorderStyle.THIN);
        input.setBorderTop(BorderStyle.THIN);
        input.setBorderLeft(BorderStyle.THIN);
        input.setBorderRight(BorderStyle.THIN);
        verdicts.put(Change.Verdict.IMPORTANT_IMPROVEMENT, filled(style(true, 10), STRONG_BLUE));
        verdicts.put(Change.Verdict.IMPROVEMENT_WITHIN_ERROR, filled(style(false, 10), PALE_BLUE));
        verdicts.put(Change.Verdict.WORSENING_WITHIN_ERROR, filled(style(false, 10), PALE_ORANGE));
        verdicts.put(Change.Verdict.IMPORTANT_WORSENING, filled(style(true, 10), STRONG_ORANGE));
    }

    CellStyle of(Change.Verdict verdict) {
        return verdicts.getOrDefault(verdict, plain);
    }

    private CellStyle style(boolean bold, int points) {
        XSSFFont font = book.createFont();
        font.setFontName("Calibri");
        font.setFontHeightInPoints((short) points);
        font.setBold(bold);
        font.setColor(new XSSFColor(INK));
        XSSFCellStyle style = book.createCellStyle();
        style.setFont(font);
        return style;
    }

    private static CellStyle filled(CellStyle style, byte[] colour) {
        ((XSSFCellStyle) style).setFillForegroundColor(new XSSFColor(colour));
        style.setFillPattern(FillPatternType.SOLID_FOREGROUND);
        return style;
    }

    static byte[] rgb(int red, int green, int blue) {
        return new byte[] {(byte) red, (byte) green, (byte) blue};
    }
}
