package lumbrical.fhir;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.util.HashSet;
import java.util.List;
import java.util.Set;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import java.util.stream.Collectors;
import lumbrical.catalogue.Catalogue;
import lumbrical.instrument.Instrument;
import lumbrical.instrument.Scale;
import org.junit.jupiter.api.Test;

/**
 * How the scores are written in FHIRPath: expressions of small rules worked by hand from the published formulas, and what may stand in
 * any. That they give the scores of all vectors is held by an engine of the standard, elsewhere.
 */
class ScoreExpressionsTest {
    private static final Pattern FUNCTION = Pattern.compile("([A-Za-z]+)\\(");

    /** Functions of the normative FHIRPath 2.0 (HL7, ANSI/NMN R1-2020) and aggregate. */
    private static final Set<String> KNOWN =
            Set.of("aggregate", "count", "exists", "extension", "iif", "select", "toDecimal", "where");

    private static String expression(String instrument, String linkId) {
        return ScoreExpressions.of(Catalogue.builtIn().find(instrument).orElseThrow()).stream()
                .filter(s -> s.linkId().equals(linkId))
                .map(ScoreExpressions.ScoreItem::expression)
                .findFirst()
                .orElseThrow();
    }

    @Test
    void everyScoreOfEveryInstrumentHasAnExpressionOfPlainFunctions() {
        Set<String> used = new HashSet<>();
        int seen = 0;
        for (Instrument instrument : Catalogue.builtIn().all()) {
            List<ScoreExpressions.ScoreItem> scores = ScoreExpressions.of(instrument);
            assertEquals(
                    instrument.scales().stream()
                            .filter(Scale::reported)
                            .map(Scale::id)
                            .collect(Collectors.toSet()),
                    scores.stream().map(s -> s.scale().id()).collect(Collectors.toSet()),
                    instrument.id().value());
            for (ScoreExpressions.ScoreItem score : scores) {
                String where = instrument.id() + " " + score.linkId();
                Matcher functions = FUNCTION.matcher(score.expression().replaceAll("'[^']*'", ""));
                while (functions.find()) {
                    used.add(functions.group(1));
                    assertTrue(KNOWN.contains(functions.group(1)), where + ": " + functions.group(1));
                }
                assertEquals(count(score.expression(), '('), count(score.expression(), ')'), where);
                assertTrue(score.expression().contains("%resource.item.where(linkId in ("), where);
                seen++;
            }
        }
        assertTrue(seen > 50, "only " + seen);
        assertEquals(KNOWN, used);
    }

    private static long count(String text, char of) {
        return text.chars().filter(c -> c == of).count();
    }

    /** A quotient has as many digits as its dividend in some engines, so that each dividend is given twelve. */
    @Test
    void everyDividendIsGivenDigits() {
        int seen = 0;
        for (Instrument instrument : Catalogue.builtIn().all()) {
            for (ScoreExpressions.ScoreItem score : ScoreExpressions.of(instrument)) {
                String[] parts = score.expression().split(" / ", -1);
                for (int i = 0; i < parts.length - 1; i++) {
                    assertTrue(parts[i].endsWith(" * 1.000000000000"), instrument.id() + " " + parts[i]);
                    seen++;
                }
            }
        }
        assertTrue(seen > 50, "only " + seen);
    }

    /** One item, its value itself: nothing if an entry was not allowed or there is none. */
    @Test
    void aScaleOfOneItemIsItsValue() {
        String item = "%resource.item.where(linkId in ('rest'))";
        assertEquals(
                "iif(" + item + ".extension('http://hl7.org/fhir/StructureDefinition/data-absent-reason')"
                        + ".where(value = 'error').exists(), {}, iif(" + item + ".answer.value.count() >= 1, ("
                        + item + ".answer.value.select(code.toDecimal()).aggregate($this + $total, 0.0)), {}))",
                expression("nprs", "score_rest"));
    }

    /** QuickDASH: (sum / answered - 1) x 25 from ten answers (Gummesson 2006, as in the definition). */
    @Test
    void aRescaledMeanIsWrittenOut() {
        String expression = expression("quickdash", "score_total");
        assertTrue(expression.contains(".answer.value.count() >= 10, ("), expression);
        assertTrue(expression.contains(".answer.value.count() - 1.0) * 25.0, {}))"), expression);
        assertTrue(expression.contains("'1' | '2' | '3'"), expression);
        String module = expression("quickdash", "score_work");
        assertTrue(module.contains(".answer.value.count() >= 4, ("), module);
    }

    /** PRWE: pain out of 50 and half of the function's sum, added. */
    @Test
    void partsAreAddedAndAGivenDivisorDivides() {
        String total = expression("prwe", "score_total");
        assertTrue(total.startsWith("((iif(") && total.contains(") + (iif("), total);
        assertTrue(expression("prwe", "score_function").contains(" * 1.000000000000 / 2,"), total);
    }

    /** MHQ: a reversed pain item is the highest and lowest code less the answer; who never has pain (code 5) has 0. */
    @Test
    void reversedItemsAndSkipsAreWrittenOut() {
        String pain = expression("mhq", "score_pain_right");
        assertTrue(pain.contains("select(6.0 - code.toDecimal())"), pain);
        assertTrue(
                pain.contains(
                        "iif(%resource.item.where(linkId in ('pain_1_right')).answer.value.code.toDecimal() = 5.0, 0.0, "),
                pain);
        String both = expression("mhq", "score_pain_both");
        assertTrue(both.startsWith("iif(%resource.extension("), both);
        assertTrue(both.contains("'pain_1_right'") && both.contains("'pain_1_left'"), both);
        assertTrue(both.endsWith(" * 1.000000000000 / 2, {})"), both);
        assertTrue(expression("mhq", "score_total_right").contains("(100.0 - (iif("), "pain is turned in the total");
    }

    /** PROMIS: nested conditions, each against the middle between two raw sums; a raw sum of 4 is 22.5 (second-hand). */
    @Test
    void aTableIsNestedConditions() {
        String table = expression("promispf4a", "score_tscore");
        assertTrue(table.contains(".select(iif($this < 4.5, 22.5, iif($this < 5.5, 26.6, "), table);
        assertTrue(table.contains("iif($this < 19.5, "), table);
    }
}
