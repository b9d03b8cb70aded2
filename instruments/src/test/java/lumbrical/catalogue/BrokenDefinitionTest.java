package lumbrical.catalogue;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import lumbrical.document.Nearest;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/** A definition with faults is refused whole, with every fault and its JSON path. */
class BrokenDefinitionTest {
    private static String prwe() throws IOException {
        return Files.readString(Path.of("definitions", "prwe.json"));
    }

    private static List<String> faults(String json) {
        return assertThrows(
                        DefinitionFaultsException.class,
                        () -> DefinitionReader.read("prwe.json", json.getBytes(StandardCharsets.UTF_8)))
                .faults();
    }

    @Test
    void everyFaultIsReportedAtOnce() throws IOException {
        String broken = prwe().replace("\"measures\"", "\"measurs\"")
                .replaceFirst("\"minimum\": \\{\"answered\": 4\\}", "\"minimum\": {\"answered\": 6}")
                .replaceFirst("\"source\": \"sorensen2013\"", "\"source\": \"sorenson\"");
        assertEquals(
                List.of(
                        "$.scales[0].missing.minimum: 6, but the scale has 5 items. Use 1 to 5.",
                        "$.thresholds[0].source: 'sorenson' is no key of sources. Keys are [ours, from-memory, macdermid1998,"
                                + " form, structure, walenkamp2015, norwegian2013, slovenian2022, sorensen2013, feitz2023,"
                                + " injury2023, prwej, persian, hindi, larsson2022, kimpark2013, hs18, dutchnorm].",
                        "$.measures: absent.",
                        "$.measurs: unknown key. Did you mean \"measures\"?"),
                faults(broken));
    }

    @Test
    void aSumThresholdOnAMeanScaleIsRefused() throws IOException {
        String bctq = Files.readString(Path.of("definitions", "bctq.json"))
                .replace(
                        "\"whyNotOffered\": \"For the sum (11-55), not the mean; 8.8 is 0.8 x 11.\"", "\"note\": \"-\"")
                .replace("\"offered\": false, \"note\": \"-\"", "\"note\": \"-\"");
        assertEquals(
                List.of(
                        "$.thresholds[43].metric: sum, but scale symptom-severity is mean. Set offered to false and say why.",
                        "$.thresholds[43].value: 8.8 does not fit a scale from 1.0 to 5.0."),
                faults(bctq).stream()
                        .map(f -> f.replaceFirst("thresholds\\[\\d+\\]", "thresholds[43]"))
                        .toList());
    }

    @Test
    void whatIsNoJsonSaysWhere() {
        assertEquals(
                List.of(
                        "$: not readable as JSON: Unexpected character (',' (code 44)): was expecting double-quote to start"
                                + " field name (line 1, column 2)"),
                faults("{,}"));
    }

    @Test
    void aKeyGivenTwiceIsRefused() {
        assertEquals(1, faults("{\"id\": \"a\", \"id\": \"b\"}").size());
    }

    @Test
    void aBlankSourceIsAFaultAlsoWhereASourceHasABlankKey() throws IOException {
        for (String broken : List.of(
                prwe().replaceFirst("\"source\": \"sorensen2013\"", "\"source\": \"\""),
                prwe().replaceFirst("\"source\": \"sorensen2013\"", "\"source\": \"\"")
                        .replaceFirst("\"key\": \"persian\"", "\"key\": \"\""))) {
            assertTrue(
                    faults(broken).stream()
                            .anyMatch(f -> f.startsWith("$.thresholds[0].source: '' is no key of sources.")),
                    () -> faults(broken).toString());
        }
    }

    @Test
    void aDefinitionOfAbsurdSizeIsRefused() {
        byte[] large = new byte[DefinitionReader.MAX_BYTES + 1];
        assertEquals(
                List.of("$: 2000001 bytes, but at most 2000000."),
                assertThrows(DefinitionFaultsException.class, () -> DefinitionReader.read("large.json", large))
                        .faults());
    }

    @Test
    void anIdThatExistsIsRefused(@TempDir Path folder) throws IOException {
        Files.writeString(folder.resolve("mine.json"), prwe());
        DefinitionFaultsException refused = assertThrows(
                DefinitionFaultsException.class, () -> Catalogue.builtIn().with(folder));
        assertEquals(List.of("$.id: 'prwe' already exists. Give your instrument an id of its own."), refused.faults());
    }

    @Test
    void aWordOneEditAwayIsFound() {
        assertEquals(
                "quickdash_3",
                Nearest.to("quickdsh_3", List.of("dash_3", "quickdash_3")).orElseThrow());
        assertEquals(
                "patient", Nearest.to("pateint", List.of("side", "patient")).orElseThrow());
        assertEquals(false, Nearest.to("patience", List.of("side", "patient")).isPresent());
    }
}
