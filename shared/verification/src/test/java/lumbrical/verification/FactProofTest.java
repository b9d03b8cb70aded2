package lumbrical.verification;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import java.util.Objects;
import java.util.stream.Stream;
import lumbrical.catalogue.Catalogue;
import org.apache.commons.csv.CSVFormat;
import org.apache.commons.csv.CSVParser;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.MethodSource;

/** Every fact of every definition, changed by one, turns a vector red or is listed as making no difference, with the reason. */
class FactProofTest {
    private static final Path VECTORS = Path.of("..", "..", "test-vectors");

    static Stream<String> ids() {
        return Catalogue.builtIn().ids().stream().map(Objects::toString);
    }

    private static List<String> equivalents(String id) throws IOException {
        CSVFormat format = CSVFormat.RFC4180
                .builder()
                .setHeader()
                .setSkipHeaderRecord(true)
                .get();
        try (CSVParser parser = CSVParser.parse(Files.readString(VECTORS.resolve("equivalents.csv")), format)) {
            return parser.stream()
                    .filter(r ->
                            r.get("definition").equals(id) && !r.get("reason").isBlank())
                    .map(r -> r.get("fact"))
                    .sorted()
                    .toList();
        }
    }

    @ParameterizedTest
    @MethodSource("ids")
    void noChangedFactSurvivesButThoseListed(String id) throws IOException {
        List<FactProof.Fact> facts = FactProof.of(VECTORS, id, 1);
        assertTrue(facts.size() >= 8, () -> id + " has only " + facts.size() + " facts");
        assertEquals(
                equivalents(id),
                facts.stream()
                        .filter(f -> !f.held())
                        .map(FactProof.Fact::fact)
                        .sorted()
                        .toList());
    }

    @Test
    void namesTheVectorsThatHoldAFact() {
        List<String> red = FactProof.of(VECTORS, "quickdash").stream()
                .filter(f -> f.fact().equals("scales.total.missing.minimum: 11 of 11"))
                .findFirst()
                .orElseThrow()
                .red();
        assertTrue(red.contains("missing-items.csv total-at-limit"), red::toString);
    }

    @Test
    void withoutVectorsNothingIsHeld(@TempDir Path folder) {
        assertTrue(
                FactProof.of(folder, "sdss").stream().filter(f -> !f.refused()).noneMatch(FactProof.Fact::held));
    }
}
