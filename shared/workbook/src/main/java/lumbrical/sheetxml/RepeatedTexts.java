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

    private final Map<String, Integer> numbers = new LinkedHashMap<>();
    private long uses;

    /** The number of a text, from 0, or -1 for one that is to stand in its cell. */
    int numberOf(String text) {
        Integer known = numbers.get(text);
        if (known == null) {
            if (numbers.size() >= MOST || text.length() > LONGEST) {
                return -1;
            }
            known = numbers.size();
            numbers.put(text, known);
        }
        uses++;
        return known;
    }

    /** The part of the workbook that holds them (ECMA-376, part 1, 18.4.9). */
    byte[] part() {
        StringBuilder xml = new StringBuilder("<?xml version=\"1.0\" encoding=\"UTF-8\"?>\n")
                .append("<sst xmlns=\"http://schemas.openxmlformats.org/spreadsheetml/2006/main\" count=\"")
                .append(uses)
                .append("\" uniqueCount=\"")
                .append(numbers.size())
                .append("\">");
        XmlBytes text = new XmlBytes();
        for (String each : numbers.keySet()) {
            text.ascii("<si>").element(each).ascii("</si>");
        }
        return xml.append(text.toString()).append("</sst>").toString().getBytes(StandardCharsets.UTF_8);
    }
}
