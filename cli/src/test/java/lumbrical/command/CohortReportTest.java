package lumbrical.command;

import static org.junit.jupiter.api.Assertions.assertArrayEquals;
import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.IOException;
import java.io.StringReader;
import java.math.BigDecimal;
import java.math.RoundingMode;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.HashMap;
import java.util.HashSet;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Set;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import nu.validator.htmlparser.dom.HtmlDocumentBuilder;
import org.apache.commons.csv.CSVFormat;
import org.apache.commons.csv.CSVParser;
import org.apache.commons.csv.CSVRecord;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.w3c.dom.Document;
import org.w3c.dom.Element;
import org.w3c.dom.NodeList;
import org.xml.sax.InputSource;

/** The report of groups from the command line, held against the tables of the same run, on the invented demo clinic. */
class CohortReportTest {
    private static final String DEMO = "../shared/demo/";
    /** A column that only one table has, and that table. */
    private static final Map<String, String> TABLE_OF = Map.of(
            "q1", "groups",
            "srm", "groups",
            "mcid_source", "responders",
            "at_least", "ecdf",
            "scorable", "flow",
            "with_follow_up", "attrition",
            "adjusted_difference", "compare");

    @TempDir
    private Path folder;

    private Run cohort(String... more) {
        List<String> words = new ArrayList<>(List.of(
                "cohort",
                DEMO + "responses.csv",
                "--episodes",
                DEMO + "episodes.csv",
                "--as-of",
                "2026-11-25",
                "--out",
                path("a.xlsx")));
        words.addAll(List.of(more));
        return Run.of(words);
    }

    private String path(String name) {
        return folder.resolve(name).toString();
    }

    private Map<String, List<CSVRecord>> tables() throws IOException {
        Map<String, List<CSVRecord>> tables = new LinkedHashMap<>();
        for (String name : new HashSet<>(TABLE_OF.values())) {
            try (CSVParser parser = CSVParser.parse(
                    folder.resolve("t").resolve(name + ".csv"),
                    StandardCharsets.UTF_8,
                    CSVFormat.RFC4180
                            .builder()
                            .setHeader()
                            .setSkipHeaderRecord(true)
                            .get())) {
                tables.put(name, parser.getRecords());
            }
        }
        return tables;
    }

    private Document report() throws Exception {
        String html = Files.readString(folder.resolve("r.html"));
        return new HtmlDocumentBuilder().parse(new InputSource(new StringReader(html)));
    }

    private static List<Element> all(Element in, String tag) {
        NodeList nodes = in.getElementsByTagNameNS("*", tag);
        List<Element> elements = new ArrayList<>();
        for (int i = 0; i < nodes.getLength(); i++) {
            elements.add((Element) nodes.item(i));
        }
        return elements;
    }

    /** A cell's value to the last digit. */
    private static String exact(Element cell) {
        List<Element> data = all(cell, "data");
        if (data.isEmpty()) {
            return cell.getTextContent();
        }
        String value = data.get(0).getAttribute("value");
        String shown = data.get(0).getTextContent();
        int decimals = shown.length() - shown.indexOf('.') - 1;
        BigDecimal rounding =
                new BigDecimal(value).subtract(new BigDecimal(shown)).abs();
        assertTrue(
                rounding.compareTo(new BigDecimal("0.500001").movePointLeft(decimals)) <= 0,
                shown + " is shown for " + value);
        return value;
    }

    private static boolean isOf(CSVRecord row, Element section, String visit) {
        return row.get("group_by").equals(section.getAttribute("data-group-by"))
                && row.get("group").equals(section.getAttribute("data-group"))
                && row.get("instrument").equals(section.getAttribute("data-instrument"))
                && (!row.isMapped("scale") || row.get("scale").equals(section.getAttribute("data-scale")))
                && row.get("visit").equals(visit);
    }

    @Test
    void everyNumberIsThatOfTheTablesAndNoRowIsLost() throws Exception {
        Run run = cohort(
                "--tables", path("t"), "--report", path("r.html"), "--by", "sex", "--compare", "sex=female,male");
        assertEquals(0, run.status(), run.err());
        Map<String, List<CSVRecord>> tables = tables();
        Map<List<String>, List<CSVRecord>> byKey = new HashMap<>();
        tables.forEach((name, rows) -> rows.forEach(
                r -> byKey.computeIfAbsent(key(name, r), k -> new ArrayList<>()).add(r)));
        Set<CSVRecord> seen = new HashSet<>();
        int cells = 0;
        int sections = 0;
        Element html = report().getDocumentElement();
        List<Element> parts = new ArrayList<>(all(html, "section"));
        parts.addAll(all(html, "div")); // a form that has no scale
        for (Element section : parts) {
            boolean compared = section.getAttribute("id").equals("compared");
            if (!section.hasAttribute("data-group-by") && !compared) {
                continue;
            }
            sections++;
            for (Element table : all(section, "table")) {
                List<String> columns = all(table, "th").stream()
                        .map(th -> th.getAttribute("data-column"))
                        .toList();
                String name = columns.stream()
                        .filter(TABLE_OF::containsKey)
                        .map(TABLE_OF::get)
                        .findFirst()
                        .orElseThrow();
                for (Element row : all(all(table, "tbody").get(0), "tr")) {
                    List<String> values =
                            all(row, "td").stream().map(CohortReportTest::exact).toList();
                    List<CSVRecord> candidates = compared
                            ? tables.get(name)
                            : byKey.getOrDefault(key(name, section, row.getAttribute("data-visit")), List.of());
                    List<CSVRecord> same = candidates.stream()
                            .filter(r ->
                                    values.equals(columns.stream().map(r::get).toList()))
                            .toList();
                    assertEquals(1, same.size(), name + " " + section.getAttribute("id") + " " + values);
                    seen.addAll(same);
                    cells += values.size();
                }
            }
        }
        assertTrue(sections > 30 && cells > 10_000, sections + " sections, " + cells + " numbers");
        List<String> lost = new ArrayList<>();
        tables.forEach((name, rows) -> rows.stream()
                .filter(r -> !seen.contains(r) && !empty(name, r))
                .forEach(r -> lost.add(name + ": " + r)));
        assertEquals(List.of(), lost);
    }

    private static List<String> key(String table, CSVRecord row) {
        return List.of(
                table,
                row.get("group_by"),
                row.get("group"),
                row.get("instrument"),
                row.isMapped("scale") ? row.get("scale") : "",
                row.get("visit"));
    }

    private static List<String> key(String table, Element section, String visit) {
        return List.of(
                table,
                section.getAttribute("data-group-by"),
                section.getAttribute("data-group"),
                section.getAttribute("data-instrument"),
                table.equals("flow") ? "" : section.getAttribute("data-scale"),
                visit);
    }

    /** Whether a row speaks of nobody; two groups are compared on main scales alone. */
    private static boolean empty(String name, CSVRecord row) {
        return switch (name) {
            case "groups" -> row.get("scored").equals("0");
            case "responders" -> row.get("paired").equals("0");
            case "attrition" ->
                row.get("with_follow_up").equals("0") && row.get("without").equals("0");
            case "compare" ->
                !row.get("scale").matches("total|symptom-severity|functional-status")
                        || row.get("n_a").equals("0") && row.get("n_b").equals("0");
            default -> false;
        };
    }

    @Test
    void theContentsAndTheSentencesSayWhatTheTablesSay() throws Exception {
        assertEquals(
                0,
                cohort("--tables", path("t"), "--report", path("r.html"), "--compare", "sex=female,male")
                        .status());
        Map<String, List<CSVRecord>> tables = tables();
        Document report = report();
        Map<String, Element> sections = new LinkedHashMap<>();
        all(report.getDocumentElement(), "section").forEach(s -> sections.put(s.getAttribute("id"), s));
        int lines = 0;
        int sentences = 0;
        for (Element row : all(all(sections.get("contents"), "tbody").get(0), "tr")) {
            String anchor = all(row, "a").get(0).getAttribute("href").substring(1);
            Element section = sections.get(anchor);
            List<Element> cells = all(row, "td");
            if (cells.size() < 5) {
                continue;
            }
            List<String> told = cells.subList(1, cells.size()).stream()
                    .map(CohortReportTest::exact)
                    .toList();
            CSVRecord group = row(tables.get("groups"), section, told.get(0));
            assertEquals(
                    List.of(
                            group.get("paired"),
                            group.get("improvement_mean"),
                            group.get("improvement_low"),
                            group.get("improvement_high")),
                    told.subList(1, 5));
            lines++;
            if (told.get(5).isEmpty()) {
                continue;
            }
            CSVRecord used = row(
                    tables.get("responders").stream()
                            .filter(r -> r.get("mcid_used").equals("yes"))
                            .toList(),
                    section,
                    told.get(0));
            assertEquals(
                    List.of(
                            used.get("improved"),
                            used.get("paired"),
                            used.get("improved_percent"),
                            used.get("low"),
                            used.get("high")),
                    told.subList(5, 10));
            sentences += sentences(section, group, used);
        }
        assertTrue(lines > 25 && sentences > 15, lines + " lines, " + sentences + " sentences");
    }

    private static CSVRecord row(List<CSVRecord> rows, Element section, String visit) {
        List<CSVRecord> same =
                rows.stream().filter(r -> isOf(r, section, visit)).toList();
        assertEquals(1, same.size());
        return same.get(0);
    }

    private static int sentences(Element section, CSVRecord group, CSVRecord used) {
        String said = all(section, "ul").get(0).getTextContent();
        int decimals = section.getAttribute("data-instrument").equals("bctq") ? 2 : 1;
        assertTrue(said.startsWith(group.get("visit") + ": " + group.get("paired") + " episode"), said);
        assertFalse(group.get("improvement_mean").isEmpty());
        assertTrue(
                said.contains("the mean improvement is " + rounded(group.get("improvement_mean"), decimals) + " point"),
                said + group);
        if (!group.get("improvement_low").isEmpty()) {
            assertTrue(
                    said.contains("95 % interval " + rounded(group.get("improvement_low"), decimals) + " to "
                            + rounded(group.get("improvement_high"), decimals) + ")"),
                    said + group);
        }
        assertTrue(
                said.contains(used.get("improved") + " of " + used.get("paired") + " improved by the MCID of "), said);
        assertTrue(said.contains("; " + used.get("worsened") + " worsened as much."), said);
        Matcher percent = Pattern.compile("or more \\((\\S+) %, 95 % interval (\\S+) to (\\S+) %\\)")
                .matcher(said);
        if (used.get("improved_percent").isEmpty()) {
            assertFalse(percent.find(), "no percentage of a few: " + said);
        } else {
            assertTrue(percent.find(), said);
            assertEquals(
                    List.of(
                            rounded(used.get("improved_percent"), 1),
                            rounded(used.get("low"), 1),
                            rounded(used.get("high"), 1)),
                    List.of(percent.group(1), percent.group(2), percent.group(3)));
        }
        return 1;
    }

    private static String rounded(String value, int decimals) {
        BigDecimal rounded = new BigDecimal(value).setScale(decimals, RoundingMode.HALF_UP);
        return rounded.signum() == 0 ? "0" : rounded.stripTrailingZeros().toPlainString();
    }

    @Test
    void aFewHaveNoPercentageAnywhereInTheReport() throws Exception {
        assertEquals(
                0,
                cohort("--report", path("r.html"), "--smallest-group", "1000").status());
        Document report = report();
        String text = all(report.getDocumentElement(), "main").get(0).getTextContent();
        assertFalse(
                Pattern.compile("\\((?!95 % interval)\\d[\\d.]* %")
                        .matcher(text)
                        .find(),
                "a share in brackets");
        assertEquals(
                0,
                all(report.getDocumentElement(), "svg").stream()
                        .filter(svg -> svg.getTextContent().contains("100 %"))
                        .count());
        assertTrue(text.contains("Fewer than 1000 episodes: no percentage, and no drawing of single episodes."));
    }

    @Test
    void writesTheSameTwiceSaysSoAndReplacesNothingUnasked() throws IOException {
        Run first = cohort("--report", path("r.html"));
        assertEquals(0, first.status(), first.err());
        assertTrue(first.err().endsWith("written: a.xlsx, r.html" + System.lineSeparator()), first.err());
        Run refused = cohort("--report", path("r.html"), "--overwrite", "--report", path("s.html"));
        assertEquals(2, refused.status());
        Run second = cohort("--report", path("s.html"), "--overwrite");
        assertEquals(0, second.status(), second.err());
        assertArrayEquals(Files.readAllBytes(folder.resolve("r.html")), Files.readAllBytes(folder.resolve("s.html")));
        Files.delete(folder.resolve("a.xlsx"));
        Run existing = cohort("--report", path("r.html"));
        assertEquals(2, existing.status());
        assertFalse(Files.exists(folder.resolve("a.xlsx")), "nothing is written");
        assertTrue(existing.err().contains("r.html"), existing.err());
    }

    @Test
    void aReportThatIsNoPageIsRefused() {
        Run run = cohort("--report", path("r.pdf"));
        assertEquals(2, run.status());
        assertTrue(
                run.err().contains("--report r.pdf: this cannot be written here. Name a file that ends in .html."),
                run.err());
        assertEquals(2, cohort("--report", path("a.xlsx")).status());
        assertFalse(Files.exists(folder.resolve("a.xlsx")));
    }
}
