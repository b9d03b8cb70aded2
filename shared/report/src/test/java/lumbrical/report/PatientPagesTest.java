package lumbrical.report;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.nio.charset.StandardCharsets;
import java.security.MessageDigest;
import java.util.Base64;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import lumbrical.catalogue.Catalogue;
import lumbrical.followup.Episode;
import lumbrical.followup.Schedule;
import lumbrical.followup.Visit;
import lumbrical.instrument.Instrument;
import lumbrical.report.page.Demo;
import lumbrical.report.page.InventedClinic;
import lumbrical.report.page.InventedClinic.Questionnaire;
import lumbrical.report.page.MarkupCheck;
import org.junit.jupiter.api.Test;

class PatientPagesTest {
    private static final String HOSTILE =
            "</title></script><script>alert(1)</script><img src=x onerror=alert(1)>\"' onload='x' &amp; <b style=\"x\">";

    private static int count(String text, String pattern) {
        return (int) Pattern.compile(pattern).matcher(text).results().count();
    }

    private static String group(String text, String pattern) {
        Matcher matcher = Pattern.compile(pattern, Pattern.DOTALL).matcher(text);
        assertTrue(matcher.find(), pattern);
        return matcher.group(1);
    }

    @Test
    void thePolicyStandsFirstAndNamesTheVeryStyleAndScript() throws Exception {
        for (String page : List.of(Demo.clinic(), Demo.patients("P002"))) {
            String head = group(page, "<head>\\s*(.*?)</head>");
            assertTrue(head.startsWith("<meta http-equiv=\"Content-Security-Policy\""), head.substring(0, 80));
            String policy = group(head, "content=\"([^\"]*)\"").replace("&#39;", "'");
            assertEquals(
                    "default-src 'none'; script-src '" + hash(group(page, "<script>(.*?)</script>")) + "'; style-src '"
                            + hash(group(page, "<style>(.*?)</style>"))
                            + "'; img-src data:; base-uri 'none'; form-action 'none'",
                    policy);
        }
    }

    private static String hash(String text) throws Exception {
        byte[] digest = MessageDigest.getInstance("SHA-256").digest(text.getBytes(StandardCharsets.UTF_8));
        return "sha256-" + Base64.getEncoder().encodeToString(digest);
    }

    @Test
    void nothingOfAPageComesFromElsewhereOrRunsOutsideTheScript() {
        String page = Demo.clinic();
        String body = page.replaceAll("(?s)<style>.*?</style>|<script>.*?</script>", "");
        assertEquals(0, count(body, "\\sstyle="), "no style attribute");
        assertEquals(0, count(body, "<[^>]*\\son[a-z]+\\s*="), "no event attribute");
        assertEquals(0, count(body, "<(link|img|iframe|object|embed|form|base)\\b"));
        assertEquals(0, count(body, "(src|href)=\"(?!#)"), "links lead within the page alone");
        assertEquals(1, count(page, "<script"));
        assertEquals(0, count(page, "@import|url\\("));
    }

    @Test
    void everyEpisodeScaleAndVisitOfTheDemoCanBeFound() {
        String page = Demo.clinic();
        long scales = Demo.content().followUp().episodes().stream()
                .mapToLong(e -> e.series().size())
                .sum();
        assertEquals(60, count(page, "<article id=\"e\\d+\" data-patient=\"P\\d+\" data-episode=\"E\\d\">"));
        assertEquals(60, count(page, "<tr data-c="), "one row of the list for each");
        assertTrue(scales > 150, "scales seen: " + scales);
        assertTrue(count(page, "data-instrument=\"[a-z0-9]+\" data-scale=\"[a-z-]+\"") >= scales);
        assertTrue(count(page, "<tr data-visit=\"baseline\"") > 100);
        assertTrue(count(page, "<tr data-visit=\"unscheduled\"") > 0);
        assertEquals(
                count(page, "<svg "), count(page, "<svg viewBox=\"[0-9 ]+\" role=\"img\"><title>[^<]+better is up"));
    }

    @Test
    void theSameContentGivesTheSameBytes() {
        assertEquals(Demo.write(Demo.read(), List.of()), Demo.clinic());
    }

    @Test
    void theMarkupIsValid() throws Exception {
        assertEquals(List.of(), MarkupCheck.faults(Demo.clinic()));
        assertEquals(List.of(), MarkupCheck.faults(Demo.patients("P002", "P001")));
        assertEquals(List.of(), MarkupCheck.faults(Demo.write(hostile(), List.of())));
        assertEquals(List.of(), MarkupCheck.faults(Demo.write(new InventedClinic().content(), List.of())));
    }

    @Test
    void theCheckOfTheMarkupCanFail() throws Exception {
        assertFalse(MarkupCheck.faults("<!DOCTYPE html><html lang=\"en\"><title>x</title><ul><p>x</p></ul></html>")
                .isEmpty());
    }

    private static ReportContent hostile() {
        Instrument instrument = new Questionnaire().build();
        Schedule schedule = new Schedule(List.of(
                new Visit("baseline", 0, -90, 0, Visit.Role.BASELINE, List.of(), true),
                new Visit(HOSTILE, 183, 100, 200, Visit.Role.FOLLOW_UP, List.of(), true)));
        Episode episode = Episode.builder(HOSTILE, HOSTILE, lumbrical.instrument.Side.RIGHT)
                .indexDate(InventedClinic.TREATED)
                .condition(Optional.of(HOSTILE))
                .procedure(Optional.of(HOSTILE))
                .carried(Map.of(HOSTILE, HOSTILE))
                .build();
        return new InventedClinic()
                .schedule(schedule)
                .with(episode)
                .form(HOSTILE, HOSTILE, -3, instrument, 10, 6)
                .form(HOSTILE, HOSTILE, 183, instrument, 10, 2)
                .content();
    }

    @Test
    void hostileTextIsText() {
        for (String page : List.of(Demo.write(hostile(), List.of()), Demo.write(hostile(), List.of(HOSTILE)))) {
            assertEquals(1, count(page, "<script"));
            assertEquals(0, count(page, "<img|<b style|</title></script>"));
            assertEquals(0, count(page, "<[^<>]*\\sonload="));
            assertTrue(page.contains("&lt;img src=x onerror=alert(1)&gt;"));
            assertEquals(1, count(page, "<article "));
        }
    }

    @Test
    void anUnknownPatientIsTheCallersMistake() {
        ReportContent content = Demo.content();
        assertEquals(
                "Patient P999 has no episode",
                assertThrows(IllegalArgumentException.class, () -> Demo.write(content, List.of("P001", "P999")))
                        .getMessage());
        assertThrows(
                IllegalArgumentException.class,
                () -> PatientPages.writePatients(content, List.of(), new java.io.StringWriter()));
        assertEquals(48, PatientPages.patients(content).size());
    }

    @Test
    void aPatientNamedTwiceStandsOnce() {
        assertEquals(Demo.patients("P001"), Demo.patients("P001", "P001"));
        String two = Demo.patients("P003", "P001");
        assertTrue(two.indexOf("data-patient=\"P003\"") < two.indexOf("data-patient=\"P001\""), "in the order named");
    }

    private static String sheets(int episodes, int scales) {
        Instrument instrument = new Questionnaire()
                .scales(scales)
                .thresholds(OptionalDouble.of(15), OptionalDouble.of(10))
                .build();
        InventedClinic clinic = new InventedClinic();
        for (int e = 1; e <= episodes; e++) {
            clinic.with(InventedClinic.episode("P1", "E" + e).build())
                    .form("P1", "E" + e, -3, instrument, 10, 6)
                    .form("P1", "E" + e, 183, instrument, 10, 2);
        }
        return Demo.write(clinic.content(), List.of("P1"));
    }

    @Test
    void threeEpisodesOrTwelveScalesStandOnOneSheet() {
        assertFalse(sheets(3, 4).contains("sheet 1 of"));
        assertFalse(sheets(1, 12).contains("sheet 1 of"));
        assertFalse(sheets(3, 1).contains("sheet 1 of"));
    }

    @Test
    void whatIsBeyondThatStandsOnASecondSheet() {
        for (String page : List.of(sheets(4, 1), sheets(1, 13), sheets(2, 7))) {
            assertEquals(1, count(page, ", sheet 1 of 2,"));
            assertEquals(1, count(page, ", sheet 2 of 2,"));
        }
        assertEquals(1, count(sheets(1, 25), ", sheet 3 of 3,"));
    }

    @Test
    void aPatientWithoutAnyFormHasAPageToo() {
        String page = Demo.write(
                new InventedClinic()
                        .with(InventedClinic.episode("P1", "E1").build())
                        .content(),
                List.of("P1"));
        assertTrue(page.contains("No form has been received."));
        assertEquals(0, count(page, "<svg"));
    }

    @Test
    void bothQuestionsAndTheVerdictStandInTheTable() {
        Instrument instrument = new Questionnaire().build();
        String page = Demo.write(
                new InventedClinic()
                        .with(InventedClinic.episode("P1", "E1").build())
                        .form("P1", "E1", -3, instrument, 10, 6)
                        .form("P1", "E1", 42, instrument, 8, 5)
                        .form("P1", "E1", 183, instrument, 10, 2)
                        .form("P1", "E1", 1000, instrument, 5, 2)
                        .content(),
                List.of("P1"));
        // improvement 60 - 50 = 10 reaches the MDC of 10 and not the MCID of 15; two unanswered could add 0 to 20
        assertTrue(page.contains("<tr data-visit=\"6 weeks\"><th>6 weeks</th><td>2024-02-12, day 42</td><td>50.0</td>"
                + "<td>40.0 to 60.0</td><td>8 of 10</td><td>+10.0</td><td>yes</td><td>no</td><td>0 of 1</td>"
                + "<td>real improvement, smaller than the MCID; gaps could change that</td></tr>"));
        assertTrue(page.contains(
                "<td>+40.0</td><td>yes</td><td>improved</td><td>1 of 1</td><td>important improvement</td>"));
        assertTrue(page.contains("<tr data-visit=\"unscheduled\"><th>unscheduled</th>"));
        assertTrue(page.contains("no score: too few questions were answered"));
        assertTrue(page.contains("<td><b>20.0</b></td><td>6 months, 2024-07-02</td><td>+40.0</td>"));
        assertTrue(page.contains("invented@1 total (Total): from 0 to 100, lower is better"), "the arithmetic");
    }

    @Test
    void whereThereAreGripsAloneTheSheetSaysSoAndShowsEveryVisit() {
        Instrument tasks = Catalogue.builtIn().find("griptasks").orElseThrow();
        InventedClinic clinic = new InventedClinic()
                .with(InventedClinic.episode("P1", "E1").build())
                .form("P1", "E1", -3, tasks, 6, 4)
                .form("P1", "E1", 183, tasks, 6, 1);
        String page = Demo.write(clinic.content(), List.of("P1"));
        assertTrue(page.contains(
                "No questionnaire with a score has been received, only tasks that are read grip by grip."));
        String grips = group(page, "<table class=\"grips\">(.*?)</table>");
        assertEquals(0, count(grips, "class=\"screen\""));
        assertEquals(3, count(grips, "<tr>"), "a heading and two visits: " + grips);
    }
}
