package lumbrical.threshold;

import static lumbrical.scoring.ExampleInstrument.PUBLISHED;
import static org.junit.jupiter.api.Assertions.assertEquals;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.Optional;
import lumbrical.condition.ConditionVocabulary;
import lumbrical.condition.EpisodeCondition;
import lumbrical.instrument.Instrument;
import lumbrical.instrument.ItemRule;
import lumbrical.instrument.Metric;
import lumbrical.instrument.Range;
import lumbrical.instrument.Scale;
import lumbrical.instrument.ScaleId;
import lumbrical.instrument.Standing;
import lumbrical.instrument.Threshold;
import lumbrical.instrument.Threshold.Group;
import lumbrical.instrument.Threshold.Kind;
import lumbrical.scoring.ExampleInstrument;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

/** Which thresholds are used and which count; invented values, worked by hand from the rules of section 7 of the formats. */
class ThresholdsTest {
    private static final ItemRule SUM = new ItemRule.Sum(1, PUBLISHED);

    private static final Instrument INSTRUMENT = ExampleInstrument.called("example10")
            .items(2, ExampleInstrument.codes(0, 50))
            .scale("total", SUM, ExampleInstrument.noneMissing(), new Range(0, 100))
            .defaults("a", "mdc", "pass")
            .scale("other", SUM, ExampleInstrument.noneMissing(), new Range(0, 50), "1")
            .defaults("bound", "", "")
            .scale("bare", SUM, ExampleInstrument.noneMissing(), new Range(0, 50), "2")
            .threshold(ExampleThreshold.called("a", Kind.MCID).value(10).build())
            .threshold(ExampleThreshold.called("b", Kind.MCID).value(20).build())
            .threshold(ExampleThreshold.called("mdc", Kind.MDC).value(12).build())
            .threshold(ExampleThreshold.called("mdc-2", Kind.MDC).value(13).build())
            .threshold(ExampleThreshold.called("pass", Kind.PASS).value(30).build())
            .threshold(ExampleThreshold.called("sem", Kind.SEM).value(3).build())
            .threshold(ExampleThreshold.called("never", Kind.MCID)
                    .value(5)
                    .notOffered("its table contradicts its text")
                    .build())
            .threshold(ExampleThreshold.called("span", Kind.MCID).build())
            .threshold(ExampleThreshold.called("mean-metric", Kind.MCID)
                    .value(1)
                    .metric(Metric.MEAN)
                    .build())
            .threshold(ExampleThreshold.called("bound", Kind.MCID)
                    .scale("other")
                    .value(7)
                    .boundTo("Fresh fracture", "sprain")
                    .build())
            .build();

    private static final ConditionVocabulary VOCABULARY = ConditionVocabulary.EMPTY;

    private static List<String> inWords(ThresholdChoice.Checked checked) {
        return checked.faults().stream().map(ThresholdChoice.Fault::inWords).toList();
    }

    private static ThresholdChoice.Row row(int row, String scale, String condition, String threshold) {
        return new ThresholdChoice.Row("choice.csv row " + row, "example10", scale, condition, threshold);
    }

    private static ThresholdChoice.Checked check(ThresholdChoice.Row... rows) {
        return ThresholdChoice.of(
                Arrays.asList(rows),
                id -> id.equals("example10") ? Optional.of(INSTRUMENT) : Optional.empty(),
                VOCABULARY);
    }

    private static Scale scale(String id) {
        return INSTRUMENT.scale(new ScaleId(id)).orElseThrow();
    }

    private static Optional<String> mcid(ThresholdChoice choice, String scale, Optional<String> condition) {
        return choice.mcid(INSTRUMENT, scale(scale), choice.condition(condition))
                .map(Threshold::id);
    }

    @Test
    void theDefaultsOfTheDefinitionHoldUnlessChosenOtherwise() {
        ThresholdChoice defaults = ThresholdChoice.DEFAULTS;
        assertEquals(true, defaults.isDefault());
        assertEquals(List.of(), defaults.chosen());
        assertEquals(Optional.of("a"), mcid(defaults, "total", Optional.empty()));
        assertEquals(Optional.of("a"), mcid(defaults, "total", Optional.of("anything")));
        assertEquals(
                Optional.of("mdc"),
                defaults.mdc(INSTRUMENT, scale("total"), defaults.condition(Optional.empty()))
                        .map(Threshold::id));
        assertEquals(
                Optional.of("pass"),
                defaults.pass(INSTRUMENT, scale("total"), defaults.condition(Optional.empty()))
                        .map(Threshold::id));
        assertEquals(Optional.empty(), mcid(defaults, "bare", Optional.empty()));
        assertEquals(Optional.empty(), defaults.mdc(INSTRUMENT, scale("other"), defaults.condition(Optional.empty())));
    }

    @ParameterizedTest
    @CsvSource(
            nullValues = "-",
            value = {"-, -", "carpal tunnel, -", "fresh fracture, bound", "' FRESH Fracture ', bound", "Sprain, bound"})
    void aThresholdBoundToAConditionHoldsForItAlone(String condition, String found) {
        assertEquals(
                Optional.ofNullable(found), mcid(ThresholdChoice.DEFAULTS, "other", Optional.ofNullable(condition)));
    }

    @Test
    void theUsersChoiceForTheConditionComesBeforeTheirChoiceForAllAndThatBeforeTheDefault() {
        ThresholdChoice.Checked checked =
                check(row(2, "total", "", "b"), row(3, "total", "Gout", "a"), row(4, "total", "", "mdc-2"));
        assertEquals(List.of(), inWords(checked));
        ThresholdChoice choice = checked.choice();
        assertEquals(false, choice.isDefault());
        assertEquals(
                List.of("b", "a", "mdc-2"),
                choice.chosen().stream().map(Threshold::id).toList());
        assertEquals(Optional.of("b"), mcid(choice, "total", Optional.empty()));
        assertEquals(Optional.of("b"), mcid(choice, "total", Optional.of("sprain")));
        assertEquals(Optional.of("a"), mcid(choice, "total", Optional.of(" gout ")));
        assertEquals(
                Optional.of("mdc-2"),
                choice.mdc(INSTRUMENT, scale("total"), choice.condition(Optional.of("gout")))
                        .map(Threshold::id));
        assertEquals(
                Optional.of("pass"),
                choice.pass(INSTRUMENT, scale("total"), choice.condition(Optional.of("gout")))
                        .map(Threshold::id));
        assertEquals(Optional.empty(), mcid(choice, "other", Optional.empty()));
    }

    @Test
    void aChoiceForOneInstrumentLeavesAnotherAlone() {
        ThresholdChoice choice = check(row(2, "total", "", "b")).choice();
        Instrument twin = ExampleInstrument.called("example11")
                .items(2, ExampleInstrument.codes(0, 50))
                .scale("total", SUM, ExampleInstrument.noneMissing(), new Range(0, 100))
                .build();
        assertEquals(Optional.empty(), choice.mcid(twin, twin.scales().get(0), EpisodeCondition.NONE));
    }

    @Test
    void aChoiceForOneConditionLeavesTheOthersTheDefault() {
        ThresholdChoice choice = check(row(2, "total", "gout", "b")).choice();
        assertEquals(Optional.of("b"), mcid(choice, "total", Optional.of("gout")));
        assertEquals(Optional.of("a"), mcid(choice, "total", Optional.of("sprain")));
        assertEquals(Optional.of("a"), mcid(choice, "total", Optional.empty()));
    }

    @ParameterizedTest
    @CsvSource(
            delimiter = '|',
            value = {
                "total | ''  | nothing     | 'nothing' is no threshold of example10 total.",
                "other | ''  | a           | 'a' is no threshold of example10 other.",
                "none  | ''  | a           | 'none' is no scale of example10.",
                "total | ''  | never       | 'never' is listed but never used: its table contradicts its text",
                "total | ''  | span        | 'span' has no single value.",
                "total | ''  | mean-metric | 'mean-metric' is a mean, the scale a 0-100. They are never compared.",
                "total | ''  | sem         | 'sem' is a sem. Choose an mcid, an mdc or a pass.",
                "other | ''  | bound       | 'bound' holds only for Fresh fracture, sprain. Name that in the column condition.",
                "other | gout| bound       | 'bound' holds only for Fresh fracture, sprain. Name that in the column condition."
            })
    void aChoiceThatCannotBeUsedIsAFault(String scale, String condition, String threshold, String fault) {
        ThresholdChoice.Row wrong = row(5, scale, condition, threshold);
        ThresholdChoice.Checked checked = check(row(2, "total", "", "b"), wrong);
        // the message is quoted whole; a quote at its start would be read as CSV quoting
        assertEquals(List.of("choice.csv row 5: " + fault), inWords(checked));
        assertEquals(true, checked.choice().isDefault(), "with a fault nothing of the file is used");
    }

    @Test
    void aSecondRowForTheSameIsAFaultAndAnotherKindOrConditionIsNot() {
        assertEquals(
                List.of("choice.csv row 3: a second mcid for the same scale and condition. Keep one row."),
                check(row(2, "total", "gout", "b"), row(3, "total", " GOUT", "a")).faults().stream()
                        .map(ThresholdChoice.Fault::inWords)
                        .toList());
        assertEquals(
                List.of(),
                check(
                                row(2, "total", "gout", "b"),
                                row(3, "total", "", "a"),
                                row(4, "total", "gout", "mdc"),
                                row(5, "total", "gout", "pass"),
                                row(6, "other", "sprain", "bound"))
                        .faults()
                        .stream()
                        .map(ThresholdChoice.Fault::inWords)
                        .toList());
    }

    @Test
    void anUnknownInstrumentIsAFault() {
        assertEquals(
                List.of("choice.csv row 2: 'nothing' is no instrument."),
                check(new ThresholdChoice.Row("choice.csv row 2", "nothing", "total", "", "a")).faults().stream()
                        .map(ThresholdChoice.Fault::inWords)
                        .toList());
    }

    private static List<Double> published(Optional<String> condition, Threshold... thresholds) {
        ExampleInstrument made = ExampleInstrument.called("example10")
                .items(2, ExampleInstrument.codes(0, 50))
                .scale("total", SUM, ExampleInstrument.noneMissing(), new Range(0, 100))
                .scale("other", SUM, ExampleInstrument.noneMissing(), new Range(0, 50), "1");
        List.of(thresholds).forEach(made::threshold);
        Instrument instrument = made.build();
        return PublishedMcids.of(instrument, instrument.scales().get(0), VOCABULARY.resolve(condition));
    }

    private static ExampleThreshold mcid(String id, double value, String study) {
        return ExampleThreshold.called(id, Kind.MCID).value(value).study(study);
    }

    @Test
    void oneMcidAStudyCountsTheRecommendedOrTheMedian() {
        assertEquals(
                List.of(8.0, 10.0, 15.0, 20.0),
                published(
                        Optional.empty(),
                        mcid("a1", 30, "a").build(),
                        mcid("a2", 20, "a").recommended().build(),
                        mcid("b", 10, "b").build(),
                        mcid("c1", 18, "c").build(),
                        mcid("c2", 12, "c").build(), // median of two: 15
                        mcid("d1", 50, "d").build(),
                        mcid("d2", 2, "d").build(),
                        mcid("d3", 8, "d").build())); // median of three
    }

    @Test
    void whatIsBorrowedRememberedWithdrawnOrOfAnotherKindDoesNotCount() {
        assertEquals(
                List.of(4.0, 6.0),
                published(
                        Optional.empty(),
                        mcid("hand", 4, "a").group(Group.HAND_WRIST).build(),
                        mcid("limb", 6, "b").group(Group.UPPER_LIMB).build(),
                        mcid("shoulder", 1, "c").group(Group.SHOULDER).build(),
                        mcid("back", 1, "d").group(Group.LOW_BACK).build(),
                        mcid("else", 1, "e").group(Group.OTHER).build(),
                        mcid("memory", 1, "f").standing(Standing.FROM_MEMORY).build(),
                        mcid("heard", 1, "g").standing(Standing.SECOND_HAND).build(),
                        mcid("ours", 1, "h").standing(Standing.OURS).build(),
                        mcid("never", 1, "i").notOffered("no").build(),
                        mcid("metric", 1, "j").metric(Metric.SUM).build(),
                        mcid("scale", 1, "k").scale("other").build(),
                        ExampleThreshold.called("span", Kind.MCID).study("l").build(),
                        ExampleThreshold.called("mdc", Kind.MDC)
                                .value(1)
                                .study("m")
                                .build()));
    }

    @Test
    void aValueBoundToAConditionCountsForItAlone() {
        Threshold bound = mcid("bound", 3, "b").boundTo("fresh fracture").build();
        Threshold free = mcid("free", 9, "a").build();
        assertEquals(List.of(9.0), published(Optional.empty(), free, bound));
        assertEquals(List.of(9.0), published(Optional.of("gout"), free, bound));
        assertEquals(List.of(3.0, 9.0), published(Optional.of("Fresh Fracture"), free, bound));
    }

    @ParameterizedTest
    @CsvSource({"10, 10, true", "10.1, 10, true", "9.99999, 10, false", "-10, 10, false", "0, 0, true"})
    void equalCountsAsReached(double amount, double threshold, boolean reached) {
        assertEquals(reached, Reached.meets(amount, threshold));
    }

    /** 0.1 + 0.2 is 0.30000000000000004 and 0.3 - 0.1 is 0.19999999999999998 in doubles: arithmetic alone never decides. */
    @Test
    void theLastBitsOfADoubleDecideNothing() {
        assertEquals(true, Reached.meets(0.3 - 0.1, 0.2));
        assertEquals(true, Reached.meets(100.0 / 3 - 70.0 / 3, 10));
        assertEquals(false, Reached.meets(0.2 - 1e-8, 0.2));
    }

    @Test
    void onlyShouldersBacksAndOthersAreBorrowed() {
        List<Group> borrowed = new ArrayList<>();
        for (Group group : Group.values()) {
            if (mcid("x", 1, "a").group(group).build().otherPopulation()) {
                borrowed.add(group);
            }
        }
        assertEquals(List.of(Group.SHOULDER, Group.LOW_BACK, Group.OTHER), borrowed);
    }
}
