package lumbrical.threshold;

import static org.junit.jupiter.api.Assertions.assertEquals;

import java.util.Arrays;
import java.util.List;
import java.util.Optional;
import lumbrical.condition.Condition;
import lumbrical.condition.ConditionVocabulary;
import lumbrical.condition.EpisodeCondition;
import lumbrical.instrument.Instrument;
import lumbrical.instrument.ItemRule;
import lumbrical.instrument.Provenance;
import lumbrical.instrument.Range;
import lumbrical.instrument.Scale;
import lumbrical.instrument.Standing;
import lumbrical.instrument.Threshold;
import lumbrical.instrument.Threshold.Kind;
import lumbrical.scoring.ExampleInstrument;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

/** Thresholds and defaults of conditions; invented values, worked by hand from sections 7 and 11 of the formats. */
class ThresholdOfConditionTest {
    private static final Provenance MEMORY = new Provenance(Standing.FROM_MEMORY, "from-memory");
    private static final ConditionVocabulary VOCABULARY = ConditionVocabulary.of(List.of(
            new Condition(
                    "tunnel-syndrome",
                    "Tunnel syndrome",
                    List.of("TS"),
                    MEMORY,
                    List.of(new Condition.Code("G56.0", MEMORY))),
            new Condition(
                    "nerve-lesion", "Nerve lesion", List.of(), MEMORY, List.of(new Condition.Code("G56.2", MEMORY))),
            new Condition("wrist-break", "Wrist break", List.of(), MEMORY, List.of())));

    private static final Instrument INSTRUMENT = ExampleInstrument.called("example10")
            .items(2, ExampleInstrument.codes(0, 50))
            .scale(
                    "total",
                    new ItemRule.Sum(1, ExampleInstrument.PUBLISHED),
                    ExampleInstrument.noneMissing(),
                    new Range(0, 100))
            .defaults("general", "mdc", "pass")
            .defaultsFor("tunnel-syndrome", "tunnel", "tunnel-mdc", "")
            .defaultsFor("wrist-break", "", "", "pass-2")
            .threshold(mcid("general", 10, "a").build())
            .threshold(mcid("tunnel", 20, "b").build())
            .threshold(mcid("nerve", 4, "b").build())
            .threshold(mcid("break", 60, "c").boundTo("wrist-break").build())
            .threshold(ExampleThreshold.called("mdc", Kind.MDC).value(12).build())
            .threshold(ExampleThreshold.called("tunnel-mdc", Kind.MDC).value(25).build())
            .threshold(ExampleThreshold.called("pass", Kind.PASS).value(30).build())
            .threshold(ExampleThreshold.called("pass-2", Kind.PASS).value(22).build())
            .build();
    private static final Scale TOTAL = INSTRUMENT.scales().get(0);

    private static ExampleThreshold mcid(String id, double value, String study) {
        return ExampleThreshold.called(id, Kind.MCID).value(value).study(study);
    }

    private static ThresholdChoice.Row row(int row, String condition, String threshold) {
        return new ThresholdChoice.Row("choice.csv row " + row, "example10", "total", condition, threshold);
    }

    private static ThresholdChoice.Checked check(ThresholdChoice.Row... rows) {
        return ThresholdChoice.of(Arrays.asList(rows), id -> Optional.of(INSTRUMENT), VOCABULARY);
    }

    private static EpisodeCondition episode(String text) {
        return VOCABULARY.resolve(Optional.of(text));
    }

    @ParameterizedTest
    @CsvSource({
        "'', general, mdc, pass",
        "gout, general, mdc, pass",
        "ts, tunnel, tunnel-mdc, pass",
        "G56.0, tunnel, tunnel-mdc, pass",
        "nerve lesion, general, mdc, pass",
        "Wrist break, general, mdc, pass-2"
    })
    void theDefaultOfTheConditionComesBeforeTheGeneralOneForEachKindByItself(
            String text, String mcid, String mdc, String pass) {
        ThresholdChoice choice = ThresholdChoice.defaults(VOCABULARY);
        EpisodeCondition condition = choice.condition(Optional.of(text));
        assertEquals(
                List.of(mcid, mdc, pass),
                List.of(
                        choice.mcid(INSTRUMENT, TOTAL, condition).orElseThrow().id(),
                        choice.mdc(INSTRUMENT, TOTAL, condition).orElseThrow().id(),
                        choice.pass(INSTRUMENT, TOTAL, condition).orElseThrow().id()));
    }

    @ParameterizedTest
    @CsvSource({"'', nerve", "ts, nerve", "tunnel-syndrome, nerve", "wrist break, break", "gout, general"})
    void theUsersRowsComeBeforeTheDefaults(String text, String mcid) {
        ThresholdChoice choice = check(row(2, "", "nerve"), row(3, "Wrist Break", "break"), row(4, "gout", "general"))
                .choice();
        assertEquals(
                Optional.of(mcid), choice.mcid(INSTRUMENT, TOTAL, episode(text)).map(Threshold::id));
        assertEquals(
                text.startsWith("t") ? "tunnel-mdc" : "mdc",
                choice.mdc(INSTRUMENT, TOTAL, episode(text)).orElseThrow().id());
    }

    @Test
    void aThresholdOfAConditionIsChosenForItAlone() {
        List<ThresholdChoice.Fault> faults = check(
                        row(2, "TS", "break"), row(3, "", "break"), row(4, "wrist-break", "break"))
                .faults();
        assertEquals(
                List.of(
                        "choice.csv row 2: 'break' holds only for wrist-break. Name that in the column condition.",
                        "choice.csv row 3: 'break' holds only for wrist-break. Name that in the column condition."),
                faults.stream().map(ThresholdChoice.Fault::inWords).toList());
        assertEquals(ThresholdChoice.FaultKind.OTHER_CONDITION, faults.get(0).kind());
    }

    @Test
    void twoNamesOfOneConditionAreOneCondition() {
        assertEquals(
                List.of("choice.csv row 3: a second mcid for the same scale and condition. Keep one row."),
                check(row(2, "TS", "nerve"), row(3, "g56.0", "general")).faults().stream()
                        .map(ThresholdChoice.Fault::inWords)
                        .toList());
    }

    @Test
    void aCodeThatFitsTwoConditionsIsAFault() {
        assertEquals(
                List.of("choice.csv row 2: 'G56' fits Tunnel syndrome and Nerve lesion. Name one of them."),
                check(row(2, "G56", "nerve")).faults().stream()
                        .map(ThresholdChoice.Fault::inWords)
                        .toList());
    }

    @Test
    void aConditionThatNobodyKnowsIsTold() {
        ThresholdChoice choice = check(
                        row(2, "tunnel syndrom", "nerve"),
                        row(3, "Gout", "nerve"),
                        row(4, "TS", "nerve"),
                        row(5, "", "nerve"))
                .choice();
        assertEquals(
                List.of(
                        "choice.csv row 2: 'tunnel syndrom' is neither a known condition nor one that the episodes name."
                                + " Did you mean 'Tunnel syndrome'?"),
                choice.strangeConditions(List.of(episode("gout"), EpisodeCondition.NONE)).stream()
                        .map(ThresholdChoice.Fault::inWords)
                        .toList());
        assertEquals(2, choice.strangeConditions(List.of()).size());
    }

    @Test
    void aRowThatDecidesNothingIsNamed() {
        ThresholdChoice choice = check(
                        row(2, "", "general"), row(3, "TS", "nerve"), row(4, "gout", "nerve"), row(5, "", "mdc"))
                .choice();
        assertEquals(List.of(2, 3, 4, 5), unused(choice));
        assertEquals(List.of(2, 4), unused(choice, new ThresholdChoice.Use("example10", episode("ts"))));
        assertEquals(
                List.of(3),
                unused(
                        choice,
                        new ThresholdChoice.Use("example10", EpisodeCondition.NONE),
                        new ThresholdChoice.Use("example10", episode("Gout"))));
        assertEquals(List.of(2, 3, 4, 5), unused(choice, new ThresholdChoice.Use("other", EpisodeCondition.NONE)));
    }

    private static List<Integer> unused(ThresholdChoice choice, ThresholdChoice.Use... uses) {
        return choice.unusedRows(Arrays.asList(uses)).stream()
                .map(r -> Integer.valueOf(r.where().substring("choice.csv row ".length())))
                .toList();
    }

    /** Study b: its default for the tunnel is 20; else the median of 4 and 20. Study c counts for its condition alone. */
    @ParameterizedTest
    @CsvSource({
        "'', 'a 10.0 default, b 12.0 median'",
        "ts, 'a 10.0 median, b 20.0 default'",
        "wrist break, 'a 10.0 default, b 12.0 median, c 60.0 median'"
    })
    void aStudysDefaultStandsForIt(String text, String expected) {
        List<PublishedMcids.Representative> found = PublishedMcids.representatives(INSTRUMENT, TOTAL, episode(text));
        assertEquals(
                expected,
                String.join(
                        ", ",
                        found.stream()
                                .map(r -> r.study() + " " + r.value() + " "
                                        + r.basis().code())
                                .toList()));
        assertEquals(
                List.of("tunnel", "nerve"),
                found.get(1).of().stream().map(Threshold::id).toList());
    }

    @Test
    void theDefaultOfAStudyComesBeforeItsRecommendation() {
        Instrument instrument = ExampleInstrument.called("example11")
                .items(2, ExampleInstrument.codes(0, 50))
                .scale(
                        "total",
                        new ItemRule.Sum(1, ExampleInstrument.PUBLISHED),
                        ExampleInstrument.noneMissing(),
                        new Range(0, 100))
                .defaults("b", "", "")
                .threshold(mcid("a", 22, "s").recommended().build())
                .threshold(mcid("b", 20, "s").build())
                .threshold(mcid("c", 7, "t").recommended().build())
                .threshold(mcid("d", 9, "t").build())
                .build();
        assertEquals(
                List.of(7.0, 20.0),
                PublishedMcids.of(instrument, instrument.scales().get(0), EpisodeCondition.NONE));
    }
}
