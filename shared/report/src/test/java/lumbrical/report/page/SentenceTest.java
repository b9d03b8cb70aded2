package lumbrical.report.page;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.LocalDate;
import java.util.List;
import java.util.OptionalDouble;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import java.util.stream.Stream;
import lumbrical.followup.Episode;
import lumbrical.followup.FollowUpResult;
import lumbrical.followup.Schedule;
import lumbrical.followup.Visit;
import lumbrical.instrument.ChangeRule;
import lumbrical.instrument.Instrument;
import lumbrical.report.page.InventedClinic.Questionnaire;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.MethodSource;

/**
 * Every case of the table in {@code docs/pages.md}: its wording was written from the rules of change (baseline minus follow-up, equal
 * counts as met, the two questions apart), not from what the program prints.
 */
class SentenceTest {
    private static final Path TABLE = Path.of("..", "..", "docs", "pages.md");
    private static final Pattern FORM = Pattern.compile("(?:([0-9.]+) ?)?(?:\\((\\d+) of 10\\))?");
    private static final int SIX_MONTHS = 183;

    /** A row of the table. */
    record Case(String name, String start, String later, String mcid, String mdc, String also, String sentence) {
        @Override
        public String toString() {
            return name;
        }
    }

    static Stream<Case> cases() throws IOException {
        List<String> lines = Files.readAllLines(TABLE);
        int head = lines.indexOf("| case | start | 6 months | MCID | MDC | also | sentence |");
        return lines.stream()
                .skip(head + 2L)
                .takeWhile(line -> line.startsWith("|"))
                .map(line -> line.substring(1, line.length() - 1).split("\\|"))
                .map(c -> new Case(
                        c[0].strip(),
                        c[1].strip(),
                        c[2].strip(),
                        c[3].strip(),
                        c[4].strip(),
                        c[5].strip(),
                        c[6].strip()));
    }

    @Test
    void theTableHoldsEveryCase() throws IOException {
        assertEquals(46, cases().count());
        assertEquals(46, cases().map(Case::name).distinct().count());
    }

    @ParameterizedTest(name = "{0}")
    @MethodSource("cases")
    void saysWhatTheTableSays(Case c) {
        FollowUpResult clinic = clinic(c);
        List<ScaleCourse> courses =
                ScaleCourse.of(clinic.episodes().get(0), new ThresholdCache(new InventedClinic().choice()));
        assertEquals(1, courses.size());
        assertEquals(c.sentence(), Sentence.of(courses.get(0)));
    }

    @ParameterizedTest(name = "{0}")
    @MethodSource("cases")
    void neverAdvises(Case c) {
        assertFalse(
                Pattern.compile("\\b(should|must|recommend|advise|consider|need to|operate|therapy)\\b")
                        .matcher(c.sentence())
                        .find(),
                c.sentence());
        assertTrue(c.sentence().endsWith(".") && c.sentence().indexOf(". ") < 0, "one sentence: " + c.sentence());
    }

    private static OptionalDouble number(String text) {
        return text.equals("-") ? OptionalDouble.empty() : OptionalDouble.of(Double.parseDouble(text));
    }

    private static Questionnaire questionnaire(Case c) {
        Questionnaire q = new Questionnaire().thresholds(number(c.mcid()), number(c.mdc()));
        return switch (c.also()) {
            case "higher is better" -> q.higherIsBetter();
            case "the MCID is by distribution" -> q.bySpread();
            case "asked of each hand" -> q.perHand();
            case "judged from day 200 on" -> q.judgedFrom(200);
            case "itself a rating of change" -> q.change(ChangeRule.Kind.NONE);
            case "only items rated both times" ->
                q.change(ChangeRule.Kind.PAIRED_ITEMS).needed(5);
            case "other items rated later" ->
                q.change(ChangeRule.Kind.PAIRED_ITEMS).needed(5);
            default -> q;
        };
    }

    private static FollowUpResult clinic(Case c) {
        InventedClinic clinic = new InventedClinic();
        Instrument instrument = questionnaire(c).build();
        Episode.Builder episode = InventedClinic.episode("P1", "E1");
        int start = -3;
        int later = SIX_MONTHS;
        Instrument after = instrument;
        switch (c.also()) {
            case "" -> {}
            case "judged from day 200 on",
                    "itself a rating of change",
                    "higher is better",
                    "asked of each hand",
                    "the MCID is by distribution" -> {}
            case "on day 1000" -> later = 1000;
            case "no index date" -> episode = episode.indexDate(java.util.Optional.empty());
            case "the day is to come" -> clinic.asOf(LocalDate.of(2024, 3, 1));
            case "the later form is of another version" ->
                after = questionnaire(c).version("2").build();
            case "the visit is called T3" -> clinic.schedule(schedule("T3", 0));
            case "the start on day 12" -> {
                clinic.schedule(schedule("6 months", 20));
                start = 12;
            }
            case "only items rated both times" -> {
                // at the start all ten, later the first six: the mean stands in for the others
                clinic.with(episode.build()).form("P1", "E1", start, instrument, 10, 6);
                return clinic.form("P1", "E1", later, instrument, 6, 2).result();
            }
            case "other items rated later" -> {
                clinic.with(episode.build()).form("P1", "E1", start, instrument, 0, 5, 6);
                return clinic.form("P1", "E1", later, instrument, 5, 5, 2).result();
            }
            case "the later form holds 11" -> {
                clinic.with(episode.build());
                form(clinic, start, instrument, c.start());
                return clinic.form("P1", "E1", later, instrument, r -> r.answer(0, 11))
                        .result();
            }
            case "(5 of 10) at 12 months" -> form(clinic, 365, instrument, "(5 of 10)");
            case "entered twice with other answers" -> form(clinic, later, instrument, "30");
            default -> throw new IllegalArgumentException("The test does not know: " + c.also());
        }
        form(clinic, start, instrument, c.start());
        form(clinic, later, after, c.later());
        return clinic.with(episode.build()).result();
    }

    private static Schedule schedule(String followUp, int baselineUntil) {
        return new Schedule(List.of(
                new Visit("baseline", 0, -90, baselineUntil, Visit.Role.BASELINE, List.of(), true),
                new Visit(followUp, SIX_MONTHS, 100, 200, Visit.Role.FOLLOW_UP, List.of(), true)));
    }

    /** A form with that score, spread evenly over the questions answered. */
    private static void form(InventedClinic clinic, int day, Instrument instrument, String text) {
        if (text.equals("-")) {
            return;
        }
        Matcher form = FORM.matcher(text);
        assertTrue(form.matches(), text);
        int answered = form.group(2) == null ? 10 : Integer.parseInt(form.group(2));
        double each = form.group(1) == null ? 2 : Double.parseDouble(form.group(1)) / 10;
        clinic.form("P1", "E1", day, instrument, answered, each);
    }
}
