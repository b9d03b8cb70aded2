package lumbrical.sheetxml;

import java.nio.charset.StandardCharsets;
import java.util.LinkedHashMap;
import java.util.Map;

/**
 * The first texts of a workbook that may come again: the format keeps them apart from the cells, which then hold a number. Not more than
 * so many, for all of them are in memory.
 */
final class RepeatedTexts {
    private static final int MOST = 10_000;
    private static final int LONGEST = 1_000;

    private static final byte[] NONE = {};

    /** By text what its cells hold after their opening. */
    private final Map<String, byte[]> cells = new LinkedHashMap<>();

    private long uses;

    /** What a cell of that text holds after its opening, its end included; nothing if the text itself is to stand in it. */
    byte[] restOfCell(String text) {
        byte[] rest = cells.get(text);
        if (rest == null) {
            if (cells.size() >= MOST || text.length() > LONGEST) {
                return NONE;
            }
            rest = (cells.size() + "</v></c>").getBytes(StandardCharsets.US_ASCII);
            cells.put(text, rest);
        }
        uses++;
        return rest;
    }

    /** The part of the workbook that holds them (ECMA-376, part 1, 18.4.9). */
    byte[] part() {
        StringBuilder xml = new StringBuilder("<?xml version=\"1.0\" encoding=\"UTF-8\"?>\n")
                .append("<sst xmlns=\"http://schemas.openxmlformats.org/spreadsheetml/2006/main\" count=\"")
                .append(uses)
                .append("\" uniqueCount=\"")
                .append(cells.size())
                .append("\">");
        XmlBytes text = new XmlBytes();
        for (String each : cells.keySet()) {
            text.ascii("<si>").element(each).ascii("</si>");
        }
        return xml.append(text.toString()).append("</sst>").toString().getBytes(StandardCharsets.UTF_8);
    }
}
