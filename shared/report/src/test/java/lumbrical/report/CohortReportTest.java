package lumbrical.report;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.nio.charset.StandardCharsets;
import java.security.MessageDigest;
import java.util.Base64;
import java.util.HashSet;
import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.regex.MatchResult;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import lumbrical.instrument.Instrument;
import lumbrical.report.page.InventedClinic;
import lumbrical.report.page.InventedClinic.Questionnaire;
import lumbrical.report.page.InventedGroups;
import lumbrical.report.page.MarkupCheck;
import org.junit.jupiter.api.Test;

class CohortReportTest {
    private static final String HOSTILE =
            "</title></script><script>alert(1)</script><img src=x onerror=alert(1)>\"' onload='x' &amp; <b style=\"x\">";
    private static final String LONG =
            "rupture of the scapholunate ligament with static instability and dorsal intercalated"
                    + " segment deformity, second revision after failed capsulodesis and Donaudampfschifffahrtsgesellschaft"
                            .repeat(2);
    private static final String DEMO = InventedGroups.demo();

    private static int count(String text, String pattern) {
        return (int) Pattern.compile(pattern).matcher(text).results().count();
    }

    private static String group(String text, String pattern) {
        Matcher matcher = Pattern.compile(pattern, Pattern.DOTALL).matcher(text);
        assertTrue(matcher.find(), pattern);
        return matcher.group(1);
    }

    /** So many patients of a condition with a start and so many of them with a score at six months, each better by their number. */
    private static InventedClinic clinic(Instrument instrument, String condition, int starts, int again) {
        InventedClinic clinic = new InventedClinic();
        for (int i = 1; i <= starts; i++) {
            String patient = "P" + i;
            clinic.with(InventedClinic.episode(patient, "E1")
                            .condition(Optional.of(condition))
                            .build())
                    .form(patient, "E1", -3, instrument, 10, 6);
            if (i <= again) {
                clinic.form(patient, "E1", 183, instrument, 10, 6 - 0.5 * i);
            }
        }
        return clinic;
    }

    private static String section(String report, String group) {
        return group(report, "(<section id=\"g\\d+s\\d+\"[^>]*data-group=\"" + group + "\".*?</section>)");
    }

    @Test
    void thePolicyStandsFirstAndNamesTheVeryStyleAndScript() throws Exception {
        String head = group(DEMO, "<head>\\s*(.*?)</head>");
        assertTrue(head.startsWith("<meta http-equiv=\"Content-Security-Policy\""), head.substring(0, 80));
        assertEquals(
                "default-src 'none'; script-src '" + hash(group(DEMO, "<script>(.*?)</script>")) + "'; style-src '"
                        + hash(group(DEMO, "<style>(.*?)</style>"))
                        + "'; img-src data:; base-uri 'none'; form-action 'none'",
                group(head, "content=\"([^\"]*)\"").replace("&#39;", "'"));
    }

    private static String hash(String text) throws Exception {
        byte[] digest = MessageDigest.getInstance("SHA-256").digest(text.getBytes(StandardCharsets.UTF_8));
        return "sha256-" + Base64.getEncoder().encodeToString(digest);
    }

    @Test
    void nothingComesFromElsewhereOrRunsOutsideTheScript() {
        String body = DEMO.replaceAll("(?s)<style>.*?</style>|<script>.*?</script>", "");
        assertEquals(0, count(body, "\\sstyle="), "no style attribute");
        assertEquals(0, count(body, "<[^>]*\\son[a-z]+\\s*="), "no event attribute");
        assertEquals(0, count(body, "<(link|img|iframe|object|embed|form|base)\\b"));
        assertEquals(0, count(body, "(src|href)=\"(?!#)"), "links lead within the report alone");
        assertEquals(1, count(DEMO, "<script"));
        assertEquals(0, count(DEMO, "@import|url\\("));
    }

    @Test
    void itIsHtmlAsTheStandardHasIt() throws Exception {
        assertEquals(List.of(), MarkupCheck.faults(DEMO));
        Instrument instrument = new Questionnaire().build();
        for (String condition : List.of(HOSTILE, LONG)) {
            assertEquals(List.of(), MarkupCheck.faults(InventedGroups.of(clinic(instrument, condition, 7, 6))));
        }
    }

    @Test
    void aHostileGroupIsText() {
        String report = InventedGroups.of(clinic(new Questionnaire().build(), HOSTILE, 7, 6));
        assertEquals(1, count(report, "<script"));
        assertEquals(0, count(report, "<img|<b |<b>"));
        assertTrue(report.contains("condition: &lt;/title&gt;&lt;/script&gt;&lt;script&gt;alert(1)&lt;/script&gt;"));
    }

    @Test
    void eachGroupOnEachScaleHasASectionAndAnAnchorThatIsLinkedTo() {
        List<MatchResult> sections = Pattern.compile(
                        "<section id=\"(g\\d+s\\d+)\"[^>]* data-group-by=\"([^\"]*)\" data-group=\"([^\"]*)\" data-instrument=\"([^\"]*)\""
                                + " data-scale=\"([^\"]*)\"")
                .matcher(DEMO)
                .results()
                .toList();
        assertEquals(32, sections.size(), "as many as groups.csv of the demo has groups and scales");
        assertEquals(
                32,
                new HashSet<>(sections.stream()
                                .map(m -> List.of(m.group(2), m.group(3), m.group(4), m.group(5)))
                                .toList())
                        .size());
        sections.forEach(m -> assertEquals(1, count(DEMO, "href=\"#" + m.group(1) + "\"")));
        assertTrue(count(DEMO, "<svg ") > 150, "drawings seen: " + count(DEMO, "<svg "));
        assertEquals(count(DEMO, "<svg "), count(DEMO, "<svg [^>]*role=\"img\"><title>[^<]{20,}</title>"));
    }

    @Test
    void theCautionsAndTheMethodsAreThere() {
        assertTrue(DEMO.contains("Groups that were not randomised differ in more than their treatment."));
        assertTrue(group(DEMO, "<section id=\"methods\">(.*?)</section>")
                .contains("The unit is the episode, one treatment of one side"));
        assertTrue(group(DEMO, "<section id=\"compared\">(.*?)</section>").contains("A minus B"));
    }

    @Test
    void fewerThanTheSmallestGroupHaveCountsAndNoPercentage() {
        String few = section(InventedGroups.of(clinic(new Questionnaire().build(), "invented", 6, 4)), "invented");
        assertTrue(few.contains("Improved by the MCID of 15: 2 of 4; worsened as much: 0."), few);
        assertTrue(few.contains("Fewer than 5 episodes: no percentage, and no drawing of single episodes."));
        assertEquals(2, count(few, "<svg "), "the courses over time alone");
        String enough = section(InventedGroups.of(clinic(new Questionnaire().build(), "invented", 6, 5)), "invented");
        // 3 of 5: 23.07 to 88.24 by Wilson's formula (Newcombe 1998, method 3), worked apart from this program.
        assertTrue(
                enough.contains("Improved by the MCID of 15: 3 of 5 (60 %, 23.1 to 88.2 %); worsened as much: 0."),
                enough);
        assertEquals(5, count(enough, "<svg "));
    }

    @Test
    void oneNobodyAndNoMcidAreToldAsSuch() {
        Instrument plain = new Questionnaire().build();
        String one = section(InventedGroups.of(clinic(plain, "invented", 1, 1)), "invented");
        assertTrue(
                one.contains(
                        "6 months: 1 episode has both scores; the mean improvement is 5 points, without an interval: there is"
                                + " only one, and one has no spread."),
                one);
        String nobody = section(InventedGroups.of(clinic(plain, "invented", 6, 0)), "invented");
        assertTrue(nobody.contains("Nobody has both a score from the start and a later one yet."));
        assertEquals(1, count(nobody, "<svg "));
        String without = section(
                InventedGroups.of(clinic(
                        new Questionnaire()
                                .thresholds(OptionalDouble.empty(), OptionalDouble.of(10))
                                .build(),
                        "invented",
                        6,
                        6)),
                "invented");
        assertTrue(without.contains("No MCID is known: nobody is counted as improved by one."));
        assertTrue(without.contains("MDC (smallest change beyond measurement error): 10."));
        assertEquals(4, count(without, "<svg "), "no drawing of shares");
        InventedClinic unscored = new InventedClinic()
                .with(InventedClinic.episode("P1", "E1").build())
                .form("P1", "E1", -3, plain, 2, 5);
        assertTrue(section(InventedGroups.of(unscored), "invented condition").contains("No form has a score."));
    }

    @Test
    void aLongDistributionIsShownInSixtyStepsThatSaySo() {
        Instrument instrument = new Questionnaire().build();
        InventedClinic clinic = new InventedClinic();
        for (int i = 0; i < 200; i++) {
            clinic.with(InventedClinic.episode("P" + i, "E1")
                            .condition(Optional.of("invented"))
                            .build())
                    .form("P" + i, "E1", -3, instrument, 10, 6)
                    .form("P" + i, "E1", 183, instrument, 10, i * 0.03);
        }
        String section = section(InventedGroups.of(clinic), "invented");
        String table = group(section, "How many improved by at least so much: (60 of 200 steps.*?</table>)");
        assertEquals(60, count(table, "<tr data-visit"));
        assertTrue(table.contains("evenly chosen; the table ecdf.csv has all"));
        // The first improvement is reached by all 200; the last, 60 points, by one.
        assertTrue(group(table, "<tbody>\\s*(<tr.*?</tr>)").contains("<td>200</td><td>200</td>"), table);
        assertTrue(table.contains("<td><data value=\"60\">60.0</data></td><td>1</td><td>200</td>"));
        assertFalse(section.contains("NaN"));
    }
}
