package lumbrical.intake;

import static org.junit.jupiter.api.Assertions.assertEquals;

import java.nio.file.Path;
import java.util.List;
import java.util.Map;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

/** What a response is, and what to do about one that is not allowed: section 2 of the formats. */
class ResponseParserTest {
    @TempDir
    private Path folder;

    private ReadTable of(ReadOptions options, String column, String cell) {
        return ReadTable.lines(
                folder,
                options,
                "patient;completed_on;" + column,
                "P1;2026-03-09;\"" + cell.replace("\"", "\"\"") + "\"");
    }

    private String response(ReadOptions options, String column, String cell) {
        String words = of(options, column, cell).sittings.get(0);
        return words.substring(words.indexOf('{'));
    }

    private static List<String> ofResponses(List<String> all) {
        return all.subList(all.size() - 1, all.size()); // notes on columns that lack stand before
    }

    @ParameterizedTest
    @CsvSource({
        "grc_1, -7, {1=-7}",
        "grc_1, +7, {1=7}",
        "grc_1, 3.0, {1=3}",
        "grc_1, 3.00, {1=3}",
        "grc_1, 03, {1=3}",
        "grc_1, '\u00A03\u2009', {1=3}",
        "grc_1, \uFF13, {1=3}",
        "grc_1, '', {}",
        "ulfi_1, 0.5, {1=0.5}",
        "sane_1, 0, {1=0}",
        "sane_1, 66.25, {1=66.25}",
        "sane_1, 100, {1=100}"
    })
    void isANumberThatTheItemAllows(String column, String cell, String response) {
        assertEquals(response, response(ReadTable.PLAIN, column, cell));
    }

    @ParameterizedTest
    @CsvSource({
        "grc_1, 8",
        "grc_1, -8",
        "grc_1, 3.5",
        "grc_1, x",
        "grc_1, '2,3'",
        "grc_1, 2;3",
        "grc_1, 1e0",
        "sane_1, 100.5",
        "sane_1, -0.5",
        "sane_1, '66,25'",
        "ulfi_1, 0.25",
        "grc_1, NaN"
    })
    void isNothingElse(String column, String cell) {
        assertEquals("{1=no number}", response(ReadTable.PLAIN, column, cell));
        assertEquals(
                ofResponses(List.of("t.csv row 2, column " + column + " [" + cell + "] response-not-allowed")),
                ofResponses(of(ReadTable.PLAIN, column, cell).codes()));
    }

    @Test
    void theAdviceNamesWhatIsAllowed() {
        String then = " The scale is not scored for this form. Look at the form and correct the cell.";
        assertEquals(
                List.of("Allowed responses are -7, -6, -5, -4, -3, -2, -1, 0, 1, 2, 3, 4, 5, 6, 7, or blank." + then),
                of(ReadTable.PLAIN, "grc_1", "x").advices());
        assertEquals(
                List.of("Allowed is a number from 0 to 100, or blank." + then),
                of(ReadTable.PLAIN, "sane_1", "x").advices());
        assertEquals(
                List.of("Allowed responses are 0, 0.5, 1, or blank." + then),
                ofResponses(of(ReadTable.PLAIN, "ulfi_1", "2").advices()));
        assertEquals(
                List.of(
                        "Allowed responses are 1, 2, 3, 4, 5, or blank. A score of the form seems to stand where a response"
                                + " belongs." + then),
                ofResponses(of(ReadTable.PLAIN, "quickdash_1", "45").advices()),
                "a quickDASH scores from 0 to 100");
    }

    @Test
    void aBadResponseMayCountAsNotAnsweredAndIsStillListed() {
        ReadOptions lenient = ReadTable.with(ReadTable.Options::badAsNotAnswered);
        ReadTable read = of(lenient, "grc_1", "9");
        assertEquals(List.of("P1 2026-03-09: grc {}"), read.sittings);
        assertEquals(List.of("t.csv row 2, column grc_1 [9] response-not-allowed"), read.codes());
        assertEquals(
                "Allowed responses are -7, -6, -5, -4, -3, -2, -1, 0, 1, 2, 3, 4, 5, 6, 7, or blank. It is treated as not answered."
                        + " Look at the form and correct the cell.",
                read.advices().get(0));
    }

    @Test
    void theRemediesReadTheCellAsItStands() {
        assertEquals(
                List.of("MAP_ANSWERS=much BLANK_TEXT=much"),
                of(ReadTable.PLAIN, "grc_1", "much").remedies());
        assertEquals(
                List.of("BLANK_TEXT=99"), of(ReadTable.PLAIN, "grc_1", "99").remedies(), "a usual missing code");
        assertEquals(List.of(""), of(ReadTable.PLAIN, "grc_1", "10").remedies(), "only the form can tell");
        assertEquals(
                List.of("DECIMAL_COMMA"), of(ReadTable.PLAIN, "sane_1", "66,25").remedies());
        assertEquals(List.of(""), of(ReadTable.PLAIN, "grc_1", "2,3").remedies(), "two ticks: no option may read them");
        assertEquals(
                List.of(""), of(ReadTable.PLAIN, "grc_1", "2,3").remedies(), "two ticks: no option takes them away");
        assertEquals(
                List.of("DECIMAL_COMMA"), of(ReadTable.PLAIN, "grc_1", "2,0").remedies());
    }

    @Test
    void aDecimalCommaIsReadWhereTheNumberIsAllowed() {
        ReadOptions comma = ReadTable.with(ReadTable.Options::decimalComma);
        assertEquals("{1=66.25}", response(comma, "sane_1", "66,25"));
        assertEquals("{1=66.25}", response(comma, "sane_1", "66.25"));
        assertEquals("{1=no number}", response(comma, "sane_1", "6,6,2"));
        assertEquals("{1=2}", response(comma, "grc_1", "2,0"));
        assertEquals("{1=no number}", response(comma, "grc_1", "2,3"), "two ticks");
    }

    @Test
    void furtherTextsMayMeanNotAnswered() {
        ReadOptions tokens = ReadTable.with(o -> o.notAnswered("n/a", "99"));
        assertEquals("{}", response(tokens, "grc_1", "N/A"));
        assertEquals("{}", response(tokens, "grc_1", "99"));
        assertEquals("{1=no number}", response(tokens, "grc_1", "98"));
    }

    /** 3 is an answer of the NPRS; 99 is none of the GRC. */
    @Test
    void anAnswerThatIsTakenAwayIsNoted() {
        ReadTable read = of(ReadTable.with(o -> o.notAnswered("3", "99")), "nprs_rest", "3");
        assertEquals(List.of("t.csv [3] note-answers-taken-away"), read.codes());
        assertEquals(
                List.of(
                        "You say that '3' means not answered, and it is an allowed answer of nprs_rest: 1 answer of this file count as"
                                + " not answered. If they are answers, leave the text out and correct the cells that hold it for nothing."),
                read.advices());
        assertEquals(
                List.of(),
                of(ReadTable.with(o -> o.notAnswered("99")), "grc_1", "99").codes());
    }

    @Test
    void answerTextsAreMappedForTheColumnThenTheInstrumentThenAll() {
        ReadOptions codes = ReadTable.with(o -> o.notAnswered("none")
                .codes(new CodeMap(Map.of(
                        "nprs_rest", Map.of("some", "1"),
                        "nprs", Map.of("some", "2", "much", "7"),
                        "*", Map.of("some", "3", "much", "4", "gone", "", "left out", "none"),
                        "side", Map.of("rechts", "right")))));
        assertEquals("{rest=1}", response(codes, "nprs_rest", "Some"));
        assertEquals("{worst=2}", response(codes, "nprs_worst", "some"));
        assertEquals("{rest=7}", response(codes, "nprs_rest", "MUCH"));
        assertEquals("{1=3}", response(codes, "grc_1", "some"));
        assertEquals("{}", response(codes, "grc_1", "gone"), "a text may stand for a blank");
        assertEquals("{}", response(codes, "grc_1", "left out"));
        assertEquals("{1=5}", response(codes, "grc_1", "5"), "a code is itself");
        assertEquals(
                List.of("P1 2026-03-09 right: grc {1=1}"),
                ReadTable.lines(folder, codes, "patient,completed_on,side,grc_1", "P1,2026-03-09,Rechts,1").sittings);
    }
}
