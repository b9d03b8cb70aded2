package lumbrical.verification;

import static org.junit.jupiter.api.Assertions.assertAll;
import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.IOException;
import java.io.UncheckedIOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import java.util.stream.Collectors;
import java.util.stream.Stream;
import lumbrical.catalogue.Catalogue;
import lumbrical.instrument.Composition;
import lumbrical.instrument.Instrument;
import lumbrical.instrument.MissingRule;
import lumbrical.instrument.Scale;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.MethodSource;

class VectorsTest {
    private static final Path VECTORS = Path.of("..", "..", "test-vectors");
    private static final Catalogue CATALOGUE = Catalogue.builtIn();

    static Stream<Instrument> instruments() {
        return CATALOGUE.all().stream().filter(i -> !i.scales().isEmpty());
    }

    @Test
    void everyVectorPasses() {
        VectorReport report = VectorRun.run(VECTORS, CATALOGUE);
        assertEquals(List.of(), report.failures());
        assertTrue(report.rows() >= 600, "only " + report.rows() + " rows: was the folder read?");
        assertTrue(report.good());
    }

    @ParameterizedTest
    @MethodSource("instruments")
    void everyScaleHasVectorsForEveryWayItCanGo(Instrument instrument) throws IOException {
        String text;
        try (Stream<Path> files =
                Files.list(VECTORS.resolve("vectors").resolve(instrument.id().value()))) {
            text = files.map(VectorsTest::read).collect(Collectors.joining("\n"));
        }
        assertAll(instrument.scales().stream().filter(Scale::reported).flatMap(scale -> kinds(scale).stream()
                .map(kind -> () -> assertTrue(
                        text.contains("\n" + scale.id() + "-" + kind + ","),
                        () -> instrument.id() + " has no vector " + scale.id() + "-" + kind))));
    }

    private static List<String> kinds(Scale scale) {
        boolean ratedOnly = scale.composition() instanceof Composition.FromItems made
                && (made.missing() instanceof MissingRule.RatedOnly
                        || made.items().size() == 1);
        return ratedOnly
                ? List.of("complete", "one-missing", "at-limit", "out-of-codes", "best", "worst")
                : List.of("complete", "one-missing", "at-limit", "below-limit", "out-of-codes", "best", "worst");
    }

    private static String read(Path file) {
        try {
            return Files.readString(file);
        } catch (IOException e) {
            throw new UncheckedIOException(e);
        }
    }

    @Test
    void aChangedVectorFails(@TempDir Path folder) throws IOException {
        Path changed = folder.resolve("vectors").resolve("quickdash");
        Files.createDirectories(changed);
        String published = read(VECTORS.resolve("vectors/quickdash/published-example.csv"));
        Files.writeString(
                changed.resolve("published-example.csv"), published.replace(",complete,,50,", ",complete,,51,"));
        VectorReport report = VectorRun.run(folder, CATALOGUE);
        assertEquals(1, report.failures().size());
        assertEquals(
                "quickdash/published-example.csv federal-guide: score is 50.0, expected 51",
                report.failures().get(0));
    }

    @Test
    void aFolderWithoutVectorsIsNotGood(@TempDir Path folder) throws IOException {
        Files.createDirectories(folder.resolve("vectors"));
        assertEquals(false, VectorRun.run(folder, CATALOGUE).good());
    }
}
