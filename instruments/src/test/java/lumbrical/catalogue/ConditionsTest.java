package lumbrical.catalogue;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertThrows;

import java.nio.charset.StandardCharsets;
import java.util.List;
import java.util.Optional;
import lumbrical.condition.Condition;
import lumbrical.condition.ConditionMatch;
import lumbrical.condition.ConditionVocabulary;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

/** The conditions shipped. The codes are from memory, and are here to notice a slip, not to prove them. */
class ConditionsTest {
    @ParameterizedTest
    @CsvSource({
        "carpal tunnel, carpal-tunnel-syndrome",
        "CTS, carpal-tunnel-syndrome",
        "G56.0, carpal-tunnel-syndrome",
        "G560, carpal-tunnel-syndrome",
        "ulnar neuropathy, ulnar-neuropathy-elbow",
        "Cubital  Tunnel, ulnar-neuropathy-elbow",
        "G56.2, ulnar-neuropathy-elbow",
        "distal radius fracture, distal-radius-fracture",
        "S52.5, distal-radius-fracture",
        "dupuytren, dupuytren-disease",
        "Dupuytren\u2019s contracture, dupuytren-disease",
        "M72.0, dupuytren-disease",
        "M18.1, thumb-base-arthritis",
        "M18, thumb-base-arthritis",
        "flexor tendon injury, flexor-tendon-injury",
        "tfcc, tfcc-injury"
    })
    void areFoundByNameAndCode(String text, String id) {
        assertEquals(
                Optional.of(id),
                Catalogue.builtIn().conditions().match(text).found().map(Condition::id));
    }

    @Test
    void aCodeThatFitsTwoNamesBoth() {
        ConditionMatch match = Catalogue.builtIn().conditions().match("G56");
        assertEquals(
                "carpal tunnel syndrome and ulnar neuropathy at the elbow",
                match.fold(k -> "", u -> "", ConditionVocabulary::named));
    }

    @Test
    void aSlipIsMetWithASuggestion() {
        assertEquals(
                Optional.of("carpal tunnel"),
                Catalogue.builtIn()
                        .conditions()
                        .match("carpel tunnel")
                        .fold(k -> Optional.empty(), u -> u.didYouMean(), a -> Optional.empty()));
    }

    private static List<String> faults(String json) {
        return assertThrows(
                        DefinitionFaultsException.class,
                        () -> ConditionReader.read("conditions.json", json.getBytes(StandardCharsets.UTF_8)))
                .faults();
    }

    @Test
    void everyFaultOfAListIsTold() {
        assertEquals(
                List.of(
                        "$.conditions[0]: 'Upper' is no id of a condition: lower-case letters and digits, words joined by '-'.",
                        "$.conditions[1].icd10[0].source: 'who', but must be one of ours, from-memory, book.",
                        "$.conditions[1].label: absent.",
                        "$.conditions[2]: '56' is no code of ICD-10."),
                faults("{\"sources\": [{\"key\": \"book\", \"citation\": \"A book\"}], \"conditions\": ["
                        + "{\"id\": \"Upper\", \"label\": \"x\", \"standing\": \"ours\", \"source\": \"ours\"},"
                        + "{\"id\": \"b\", \"standing\": \"ours\", \"source\": \"book\","
                        + " \"icd10\": [{\"code\": \"M18\", \"standing\": \"published\", \"source\": \"who\"}]},"
                        + "{\"id\": \"c\", \"label\": \"c\", \"standing\": \"ours\", \"source\": \"ours\","
                        + " \"icd10\": [{\"code\": \"56\", \"standing\": \"ours\", \"source\": \"ours\"}]}]}"));
        assertEquals(1, faults("no json").size());
        assertEquals(
                List.of("$.conditions: 'b' is a name of a and of b."),
                faults("{\"conditions\": ["
                        + "{\"id\": \"a\", \"label\": \"A\", \"synonyms\": [\"b\"], \"standing\": \"ours\", \"source\": \"ours\"},"
                        + "{\"id\": \"b\", \"label\": \"B b\", \"standing\": \"ours\", \"source\": \"ours\"}]}"));
    }
}
