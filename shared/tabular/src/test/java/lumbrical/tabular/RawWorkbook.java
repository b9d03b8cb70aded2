package lumbrical.tabular;

import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.zip.ZipEntry;
import java.util.zip.ZipOutputStream;

/** A workbook written part by part (ECMA-376 part 1, 12.2 and 18), for what a spreadsheet library would not write. */
final class RawWorkbook {
    private static final String MAIN = "http://schemas.openxmlformats.org/spreadsheetml/2006/main";
    private static final String RELATIONS = "http://schemas.openxmlformats.org/officeDocument/2006/relationships";
    private static final String PACKAGE = "http://schemas.openxmlformats.org/package/2006/";
    private static final String KIND = "application/vnd.openxmlformats-officedocument.spreadsheetml.";

    private final Map<String, String> sheets = new LinkedHashMap<>();
    private String properties = "";
    private String texts = "";
    private String before = "";

    /** A sheet with this content of {@code sheetData}. */
    RawWorkbook sheet(String name, String rows) {
        sheets.put(name, before + "<worksheet xmlns='" + MAIN + "'><sheetData>" + rows + "</sheetData></worksheet>");
        return this;
    }

    /** A sheet with this content of its part. */
    RawWorkbook part(String name, String xml) {
        sheets.put(name, xml);
        return this;
    }

    RawWorkbook properties(String element) {
        properties = element;
        return this;
    }

    RawWorkbook texts(String items) {
        texts = items;
        return this;
    }

    /** A document type before every sheet that follows. */
    RawWorkbook documentType(String text) {
        before = text;
        return this;
    }

    Path write(Path file) throws IOException {
        List<String> types = new ArrayList<>();
        List<String> relations = new ArrayList<>();
        List<String> named = new ArrayList<>();
        int n = 0;
        for (String name : sheets.keySet()) {
            n++;
            types.add("<Override PartName='/xl/s" + n + ".xml' ContentType='" + KIND + "worksheet+xml'/>");
            relations.add(relation(n, "worksheet", "s" + n + ".xml"));
            named.add("<sheet name='" + name + "' sheetId='" + n + "' r:id='r" + n + "'/>");
        }
        if (!texts.isEmpty()) {
            types.add("<Override PartName='/xl/t.xml' ContentType='" + KIND + "sharedStrings+xml'/>");
            relations.add(relation(n + 1, "sharedStrings", "t.xml"));
        }
        try (ZipOutputStream out = new ZipOutputStream(Files.newOutputStream(file))) {
            put(
                    out,
                    "[Content_Types].xml",
                    "<Types xmlns='" + PACKAGE + "content-types'><Default Extension='rels' ContentType="
                            + "'application/vnd.openxmlformats-package.relationships+xml'/>"
                            + "<Override PartName='/xl/workbook.xml' ContentType='" + KIND + "sheet.main+xml'/>"
                            + String.join("", types) + "</Types>");
            put(out, "_rels/.rels", relations(List.of(relation(1, "officeDocument", "xl/workbook.xml"))));
            put(out, "xl/_rels/workbook.xml.rels", relations(relations));
            put(
                    out,
                    "xl/workbook.xml",
                    "<workbook xmlns='" + MAIN + "' xmlns:r='" + RELATIONS + "'>" + properties + "<sheets>"
                            + String.join("", named) + "</sheets></workbook>");
            int sheet = 0;
            for (String xml : sheets.values()) {
                put(out, "xl/s" + ++sheet + ".xml", xml);
            }
            if (!texts.isEmpty()) {
                put(out, "xl/t.xml", "<sst xmlns='" + MAIN + "'>" + texts + "</sst>");
            }
        }
        return file;
    }

    private static String relation(int n, String type, String target) {
        return "<Relationship Id='r" + n + "' Type='" + RELATIONS + "/" + type + "' Target='" + target + "'/>";
    }

    private static String relations(List<String> all) {
        return "<Relationships xmlns='" + PACKAGE + "relationships'>" + String.join("", all) + "</Relationships>";
    }

    private static void put(ZipOutputStream out, String name, String content) throws IOException {
        out.putNextEntry(new ZipEntry(name));
        out.write(content.getBytes(StandardCharsets.UTF_8));
    }
}
