package lumbrical.sheetxml;

import java.io.IOException;
import java.io.OutputStream;
import java.nio.charset.StandardCharsets;
import java.util.Arrays;

/** XML as bytes in UTF-8, in a room that grows. */
final class XmlBytes {
    private byte[] bytes = new byte[1 << 12];
    private int used;

    int length() {
        return used;
    }

    void clear() {
        used = 0;
    }

    private void room(int more) {
        if (bytes.length - used < more) {
            bytes = Arrays.copyOf(bytes, Math.max(2 * bytes.length, used + more));
        }
    }

    XmlBytes raw(byte[] more) {
        room(more.length);
        System.arraycopy(more, 0, bytes, used, more.length);
        used += more.length;
        return this;
    }

    /** Text of ASCII characters, none of which XML gives a meaning. */
    @SuppressWarnings("deprecation") // the method that takes the low bytes of characters, which these texts have alone
    XmlBytes ascii(String text) {
        int length = text.length();
        room(length);
        text.getBytes(0, length, bytes, used);
        used += length;
        return this;
    }

    XmlBytes number(long number) {
        if (number < 0 || number >= 1_000_000_000) {
            return ascii(Long.toString(number));
        }
        int left = (int) number;
        int digits = 1;
        for (int limit = 10; limit <= left && digits < 9; limit *= 10) {
            digits++;
        }
        room(digits);
        for (int i = used + digits - 1; i >= used; i--) {
            bytes[i] = (byte) ('0' + left % 10);
            left /= 10;
        }
        used += digits;
        return this;
    }

    /** A {@code t} element with a text. */
    XmlBytes element(String text) {
        int last = text.length() - 1;
        boolean keep =
                last >= 0 && (Character.isWhitespace(text.charAt(0)) || Character.isWhitespace(text.charAt(last)));
        return ascii(keep ? "<t xml:space=\"preserve\">" : "<t>").text(text).ascii("</t>");
    }

    /** Text with what XML gives a meaning escaped, and a question mark for what it cannot hold, as the workbook library has it. */
    XmlBytes text(String text) {
        int length = text.length();
        room(6 * length);
        byte[] to = bytes;
        int at = used;
        for (int i = 0; i < length; i++) {
            char c = text.charAt(i);
            if (c >= ' ' && c < 0x7F && c != '<' && c != '>' && c != '&' && c != '"') {
                to[at++] = (byte) c;
            } else {
                used = at;
                if (Character.isHighSurrogate(c) && i + 1 < length && Character.isLowSurrogate(text.charAt(i + 1))) {
                    raw(text.substring(i, i + 2).getBytes(StandardCharsets.UTF_8));
                    i++;
                } else {
                    special(c);
                }
                at = used;
            }
        }
        used = at;
        return this;
    }

    private void special(char c) {
        switch (c) {
            case '<' -> ascii("&lt;");
            case '>' -> ascii("&gt;");
            case '&' -> ascii("&amp;");
            case '"' -> ascii("&quot;");
            case '\n' -> ascii("&#xa;");
            case '\r' -> ascii("&#xd;");
            case '\t' -> ascii("&#x9;");
            default -> {
                boolean cannot = c < ' ' || c >= '\uFFFE' || Character.isSurrogate(c);
                if (cannot) {
                    ascii("?");
                } else {
                    raw(String.valueOf(c).getBytes(StandardCharsets.UTF_8));
                }
            }
        }
    }

    void to(OutputStream out) throws IOException {
        out.write(bytes, 0, used);
    }

    @Override
    public String toString() {
        return new String(bytes, 0, used, StandardCharsets.UTF_8);
    }
}
