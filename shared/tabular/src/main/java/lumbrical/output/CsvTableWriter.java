package lumbrical.output;

import java.io.IOException;
import java.io.UncheckedIOException;
import java.util.List;

/** Writes a table as CSV: UTF-8 text, comma, CRLF, RFC 4180, no comment lines. */
public final class CsvTableWriter<R> {
    private static final String GUARDED = "=+-@\t\r";
    private static final int FLUSH_AT = 1 << 16;

    private final List<OutputColumn<R>> columns;
    private final Appendable out;
    private final boolean guard;
    private final StringBuilder buffer = new StringBuilder();

    /**
     * A writer that has written the header.
     *
     * @param guard whether a text cell from the input that starts like a formula gets a leading apostrophe
     */
    public CsvTableWriter(OutputTable<R> table, Appendable out, boolean guard) {
        this(table.columns(), out, guard);
        for (int i = 0; i < columns.size(); i++) {
            separate(i);
            quoted(columns.get(i).name());
        }
        buffer.append("\r\n");
    }

    private CsvTableWriter(List<OutputColumn<R>> columns, Appendable out, boolean guard) {
        this.columns = columns;
        this.out = out;
        this.guard = guard;
    }

    /** A writer for rows that follow others. */
    public static <R> CsvTableWriter<R> withoutHeader(OutputTable<R> table, Appendable out, boolean guard) {
        return new CsvTableWriter<>(table.columns(), out, guard);
    }

    /** Writes a row. */
    public void write(R row) {
        for (int i = 0; i < columns.size(); i++) {
            separate(i);
            append(columns.get(i).of().apply(row));
        }
        buffer.append("\r\n");
        if (buffer.length() > FLUSH_AT) {
            flush();
        }
    }

    private void separate(int i) {
        if (i > 0) {
            buffer.append(',');
        }
    }

    private void append(Value value) {
        if (value instanceof Value.Text text) {
            quoted(guarded(text.text(), guard));
        } else if (value instanceof Value.Word word) {
            quoted(word.text());
        } else if (value instanceof Value.Number number) {
            Numbers.append(number.value(), buffer);
        } else if (value instanceof Value.Day day) {
            buffer.append(day.day());
        }
    }

    /** The text, with a leading apostrophe if it starts like a formula and {@code guard} is on. */
    public static String guarded(String text, boolean guard) {
        return guard && !text.isEmpty() && GUARDED.indexOf(text.charAt(0)) >= 0 ? "'" + text : text;
    }

    private void quoted(String text) {
        boolean needed = false;
        for (int i = 0; i < text.length() && !needed; i++) {
            char c = text.charAt(i);
            needed = c == ',' || c == '"' || c == '\n' || c == '\r';
        }
        if (needed) {
            buffer.append('"').append(text.replace("\"", "\"\"")).append('"');
        } else {
            buffer.append(text);
        }
    }

    /** Hands everything written so far on. */
    public void flush() {
        try {
            out.append(buffer);
            buffer.setLength(0);
        } catch (IOException e) {
            throw new UncheckedIOException(e);
        }
    }
}
