package lumbrical.sheetxml;

import java.io.IOException;
import java.io.UncheckedIOException;
import java.nio.charset.StandardCharsets;
import java.util.Arrays;
import java.util.OptionalDouble;
import lumbrical.number.Memo;
import org.apache.poi.ss.usermodel.CellStyle;
import org.apache.poi.ss.util.CellReference;

/**
 * The rows of a sheet, from the first on: cells are set from left to right, then {@link #end} closes their row. Blank cells are left out.
 * The elements are those of ECMA-376, part 1, 18.3.1.
 */
public final class SheetRows {
    /** In twentieths of a point, as the workbook library rounds heights. */
    private static final int TWENTIETHS = 20;
    /** Beyond it not every whole number is a double. */
    private static final double LARGEST_WHOLE = 1e15;

    /** Scores come again, and a number with many decimals takes longer to print than all else in its cell. */
    private static final Memo<Double, byte[]> PRINTED = new Memo<>(14, value -> ascii(value + "</v></c>"));

    private static final byte[] NUMBER_END = ascii("</v></c>");
    private static final byte[] TEXT_END = ascii("</is></c>");

    private final PackedPart part;
    private final RepeatedTexts repeated;
    private final XmlBytes cells = new XmlBytes();
    private final XmlBytes row = new XmlBytes();
    private final Opening texts = new Opening(" t=\"inlineStr\"><is>");
    private final Opening words = new Opening(" t=\"s\"><v>");
    private final Opening numbers = new Opening("><v>");
    private final Opening empties = new Opening("/>");
    private final Opening formulas = new Opening("><f>");
    private final Opening formulasOfText = new Opening(" t=\"str\"><f>");
    private byte[][] beginnings = new byte[0][];
    private byte[] number = digits(1);
    private int rows;
    private int mostColumns;

    SheetRows(PackedPart part, RepeatedTexts repeated) {
        this.part = part;
        this.repeated = repeated;
    }

    /** A text that is hardly the same in many cells, such as an id. */
    public void text(int column, CellStyle style, String text) {
        begin(column, texts, style).element(text).raw(TEXT_END);
    }

    /** A text that may come again in many cells, such as a code. */
    public void word(int column, CellStyle style, String text) {
        byte[] rest = repeated.restOfCell(text);
        if (rest.length == 0) {
            text(column, style, text);
        } else {
            begin(column, words, style).raw(rest);
        }
    }

    /** A number, negative zero as 0; a day is the number of days that the format counts from the end of 1899. */
    public void number(int column, CellStyle style, double value) {
        XmlBytes begun = begin(column, numbers, style);
        if (value == Math.rint(value) && Math.abs(value) < LARGEST_WHOLE) {
            begun.number((long) value).raw(NUMBER_END);
        } else {
            begun.raw(PRINTED.of(value));
        }
    }

    /** A cell that shows its look alone. */
    public void empty(int column, CellStyle style) {
        begin(column, empties, style);
    }

    /**
     * A formula.
     *
     * @param now the number that it gives when it is written; empty for nothing that can be shown
     */
    public void formula(int column, CellStyle style, String formula, OptionalDouble now) {
        begin(column, now.isPresent() ? formulas : formulasOfText, style)
                .text(formula)
                .ascii("</f><v>");
        cells.ascii(now.isPresent() ? Double.toString(now.getAsDouble()) : "").raw(NUMBER_END);
    }

    private XmlBytes begin(int column, Opening opening, CellStyle style) {
        mostColumns = Math.max(mostColumns, column + 1);
        return cells.raw(beginning(column)).raw(number).raw(opening.styled(style.getIndex()));
    }

    private static byte[] digits(int row) {
        return ascii(Integer.toString(row));
    }

    private static byte[] ascii(String text) {
        return text.getBytes(StandardCharsets.US_ASCII);
    }

    /** By style how a cell of some kind goes on after the number of its row, up to what stands in it. */
    private static final class Opening {
        private final String rest;
        private byte[][] byStyle = new byte[0][];

        Opening(String rest) {
            this.rest = rest;
        }

        byte[] styled(int style) {
            while (style >= byStyle.length) {
                int next = byStyle.length;
                byStyle = Arrays.copyOf(byStyle, next + 1);
                byStyle[next] = ascii("\" s=\"" + next + "\"" + rest);
            }
            return byStyle[style];
        }
    }

    private byte[] beginning(int column) {
        while (column >= beginnings.length) {
            int next = beginnings.length;
            beginnings = Arrays.copyOf(beginnings, next + 1);
            beginnings[next] = ascii("<c r=\"" + CellReference.convertNumToColString(next));
        }
        return beginnings[column];
    }

    /**
     * Ends the row, of the usual height.
     *
     * @throws UncheckedIOException if the disk does not take it
     */
    public void end() {
        end(row.ascii("<row r=\"").raw(number).ascii("\">\n"));
    }

    /**
     * Ends the row.
     *
     * @param points its height
     * @throws UncheckedIOException if the disk does not take it
     */
    public void end(float points) {
        float height = (short) (points * TWENTIETHS) / (float) TWENTIETHS;
        end(row.ascii("<row r=\"")
                .number(rows + 1L)
                .ascii("\" customHeight=\"1\" ht=\"")
                .ascii(Float.toString(height))
                .ascii("\">\n"));
    }

    private void end(XmlBytes opened) {
        try {
            opened.to(part);
            cells.ascii("</row>\n").to(part);
        } catch (IOException e) {
            throw new UncheckedIOException(e);
        }
        row.clear();
        cells.clear();
        rows++;
        number = digits(rows + 1);
    }

    /** How many rows there are. */
    public int rows() {
        return rows;
    }

    /** How many columns they have. */
    public int columns() {
        return mostColumns;
    }
}
