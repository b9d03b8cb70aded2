package lumbrical.condition;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertNotEquals;
import static org.junit.jupiter.api.Assertions.assertThrows;

import java.util.Arrays;
import java.util.List;
import java.util.Optional;
import lumbrical.instrument.Provenance;
import lumbrical.instrument.Standing;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.ValueSource;

/** Invented conditions; what is expected follows from section 11 of the formats. */
class ConditionVocabularyTest {
    private static final Provenance MEMORY = new Provenance(Standing.FROM_MEMORY, "from-memory");
    private static final Condition TUNNEL =
            condition("tunnel-syndrome", "Tunnel syndrome", "G56.0", "the tunnel", "TS");
    private static final Condition NERVE = condition("nerve-lesion", "Nerve lesion", "G56.2");
    private static final Condition BREAK = condition("wrist-break", "Wrist's break", "S52.5", "broken wrist");
    private static final Condition JOINT = condition("joint-wear", "Joint wear", "M18");
    private static final Condition WIDE = condition("any-wear", "Any wear", "M18.1");
    private static final ConditionVocabulary VOCABULARY =
            ConditionVocabulary.of(List.of(TUNNEL, NERVE, BREAK, JOINT, WIDE));

    private static Condition condition(String id, String label, String code, String... synonyms) {
        return new Condition(id, label, Arrays.asList(synonyms), MEMORY, List.of(new Condition.Code(code, MEMORY)));
    }

    private static String id(ConditionMatch match) {
        return match.fold(
                k -> k.condition().id(),
                u -> "unknown" + u.didYouMean().map(m -> ": " + m).orElse(""),
                a -> "several: " + ConditionVocabulary.named(a));
    }

    @ParameterizedTest
    @CsvSource(
            quoteCharacter = '"',
            value = {
                "tunnel-syndrome,tunnel-syndrome",
                "Tunnel Syndrome,tunnel-syndrome",
                "\"  TUNNEL   syndrome \",tunnel-syndrome",
                "\"tunnel\u00a0\u00a0syndrome\",tunnel-syndrome",
                "ts,tunnel-syndrome",
                "the Tunnel,tunnel-syndrome",
                "wrist's break,wrist-break",
                "wrist\u2019s break,wrist-break",
                // equal or finer, with and without the dot
                "G56.0,tunnel-syndrome",
                "g560,tunnel-syndrome",
                "G56.01,tunnel-syndrome",
                "G5601,tunnel-syndrome",
                "G56.2,nerve-lesion",
                "M18,joint-wear",
                "M18.0,joint-wear",
                // fits two
                "M18.1,several: Joint wear and Any wear",
                "M18.12,several: Joint wear and Any wear",
                // too coarse to tell two apart; too coarse for one; none
                "G56,several: Tunnel syndrome and Nerve lesion",
                "S52,unknown: Wrist's break",
                "G56.1,unknown",
                "S52.0,unknown",
                // near a name
                "tunel syndrome,unknown: Tunnel syndrome",
                "brokken wrist,unknown: broken wrist",
                "t,unknown",
                "gout,unknown",
                "G56.0 left,unknown"
            })
    void matchesByIdLabelSynonymAndCode(String text, String expected) {
        assertEquals(expected, id(VOCABULARY.match(text)));
    }

    @Test
    void anEpisodesTextIsAConditionATextOfItsOwnOrNothing() {
        assertEquals(new EpisodeCondition.Known(TUNNEL), VOCABULARY.resolve(Optional.of(" ts ")));
        assertEquals(EpisodeCondition.NONE, VOCABULARY.resolve(Optional.empty()));
        assertEquals(EpisodeCondition.NONE, VOCABULARY.resolve(Optional.of(" \u00a0 ")));
        EpisodeCondition own = VOCABULARY.resolve(Optional.of(" Gout   of the wrist"));
        assertEquals(Optional.of("Gout of the wrist"), own.label());
        assertEquals(own, VOCABULARY.resolve(Optional.of("GOUT of the wrist")));
        assertEquals(
                own.hashCode(),
                VOCABULARY.resolve(Optional.of("GOUT of the wrist")).hashCode());
        assertNotEquals(own, VOCABULARY.resolve(Optional.of("gout of the hand")));
        assertNotEquals(own, EpisodeCondition.NONE);
        assertEquals(
                Optional.of("M18.1"), VOCABULARY.resolve(Optional.of("M18.1")).label());
        assertEquals(
                Optional.of("Tunnel syndrome"),
                VOCABULARY.resolve(Optional.of("TS")).label());
        assertEquals(Optional.empty(), EpisodeCondition.NONE.label());
    }

    @Test
    void aConditionIsCalledByAnyOfItsNames() {
        EpisodeCondition known = VOCABULARY.resolve(Optional.of("ts"));
        assertEquals(true, known.isCalled("tunnel-syndrome"));
        assertEquals(true, known.isCalled("The Tunnel"));
        assertEquals(false, known.isCalled("nerve-lesion"));
        assertEquals(true, VOCABULARY.resolve(Optional.of("Gout")).isCalled("gout"));
        assertEquals(false, EpisodeCondition.NONE.isCalled("gout"));
    }

    private static ConditionVocabulary.Checked map(String... textAndCondition) {
        return VOCABULARY.withMap(java.util.stream.IntStream.range(0, textAndCondition.length / 2)
                .mapToObj(i -> new ConditionVocabulary.OwnName(
                        "map.csv row " + (i + 2), textAndCondition[2 * i], textAndCondition[2 * i + 1]))
                .toList());
    }

    @Test
    void aClinicsOwnNamesComeFirst() {
        ConditionVocabulary own = map("Daumen", "joint-wear", "ts", "nerve-lesion", "M18.1", "Any wear")
                .vocabulary();
        assertEquals("joint-wear", id(own.match(" DAUMEN")));
        assertEquals("nerve-lesion", id(own.match("TS")));
        assertEquals("any-wear", id(own.match("m18.1")));
        assertEquals("tunnel-syndrome", id(own.match("the tunnel")));
        assertEquals("unknown", id(VOCABULARY.match("Daumen")));
    }

    @Test
    void aSecondMapAddsToTheFirst() {
        ConditionVocabulary first = map("Daumen", "joint-wear").vocabulary();
        ConditionVocabulary both = first.withMap(
                        List.of(new ConditionVocabulary.OwnName("map.csv row 2", "Bruch", "S52.5")))
                .vocabulary();
        assertEquals("joint-wear", id(both.match("daumen")));
        assertEquals("wrist-break", id(both.match("bruch")));
    }

    @Test
    void aMapWithAFaultIsNotUsedAndEveryFaultIsTold() {
        ConditionVocabulary.Checked checked = map(
                "a",
                "joint-weer",
                "b",
                "nothing like it",
                "c",
                "M18.1",
                " ",
                "joint-wear",
                "d",
                "joint-wear",
                "D",
                "TS",
                "e",
                "TS",
                "E",
                "tunnel-syndrome");
        assertEquals(VOCABULARY, checked.vocabulary());
        assertEquals(
                List.of(
                        "map.csv row 2: 'joint-weer' is no condition. Did you mean 'Joint wear'?",
                        "map.csv row 3: 'nothing like it' is no condition. Conditions are tunnel-syndrome, nerve-lesion,"
                                + " wrist-break, joint-wear, any-wear.",
                        "map.csv row 4: 'M18.1' fits Joint wear and Any wear. Give the id of one.",
                        "map.csv row 5: the text is blank. Give the text to be understood.",
                        "map.csv row 7: 'D' already means joint-wear. Keep one row."),
                checked.faults().stream()
                        .map(ConditionVocabulary.Fault::inWords)
                        .toList());
        assertEquals(
                List.of(
                        ConditionVocabulary.FaultKind.CONDITION_UNKNOWN,
                        ConditionVocabulary.FaultKind.CONDITION_UNKNOWN,
                        ConditionVocabulary.FaultKind.CONDITION_AMBIGUOUS,
                        ConditionVocabulary.FaultKind.TEXT_BLANK,
                        ConditionVocabulary.FaultKind.TEXT_TWICE),
                checked.faults().stream().map(ConditionVocabulary.Fault::kind).toList());
    }

    @Test
    void oneNameIsOneCondition() {
        List<Condition> twins = List.of(TUNNEL, condition("other", "THE tunnel", "A00"));
        assertEquals(
                "'THE tunnel' is a name of tunnel-syndrome and of other",
                assertThrows(IllegalArgumentException.class, () -> ConditionVocabulary.of(twins))
                        .getMessage());
    }

    @Test
    void conditionsAreFoundById() {
        assertEquals(Optional.of(NERVE), VOCABULARY.find("nerve-lesion"));
        assertEquals(Optional.empty(), VOCABULARY.find("Nerve lesion"));
        assertEquals(5, VOCABULARY.conditions().size());
        assertEquals(List.of(), ConditionVocabulary.EMPTY.conditions());
    }

    @ParameterizedTest
    @ValueSource(strings = {"Upper", "with blank", "-start", "double--dash", ""})
    void anIdIsOfLowerCaseWords(String id) {
        assertThrows(IllegalArgumentException.class, () -> new Condition(id, "label", List.of(), MEMORY, List.of()));
    }

    @Test
    void aConditionHasALabelAndItsCodesLookLikeCodes() {
        assertThrows(IllegalArgumentException.class, () -> new Condition("a", " ", List.of(), MEMORY, List.of()));
        assertThrows(IllegalArgumentException.class, () -> new Condition.Code("56.0", MEMORY));
    }

    /** Kitten and sitting: the common worked example of Levenshtein's distance, 3. */
    @ParameterizedTest
    @CsvSource({"kitten, sitting, 3", "flaw, lawn, 2", "'', abc, 3", "abc, '', 3", "same, same, 0"})
    void countsEdits(String a, String b, int edits) {
        assertEquals(edits, Names.edits(a, b));
    }
}
