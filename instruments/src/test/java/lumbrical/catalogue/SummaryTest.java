package lumbrical.catalogue;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import java.util.Optional;
import java.util.stream.Stream;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

class SummaryTest {
    private static final Path DEFINITIONS = Path.of("definitions");

    @TempDir
    private Path folder;

    @Test
    void theIndexNamesEveryDefinition() throws IOException {
        try (Stream<Path> files = Files.list(DEFINITIONS)) {
            assertEquals(
                    files.map(f -> String.valueOf(f.getFileName()).replace(".json", ""))
                            .sorted()
                            .toList(),
                    Catalogue.builtIn().ids().stream().map(Object::toString).toList());
        }
    }

    @Test
    void theIndexSaysWhatTheDefinitionsSay() {
        Catalogue catalogue = Catalogue.builtIn();
        assertEquals(catalogue.all().stream().map(Summary::of).toList(), catalogue.summaries());
    }

    /** As the definition file states it. */
    @Test
    void tellsScalesLicenceAndStandings() {
        assertEquals(
                Optional.of(new Summary(
                        "bctq",
                        "Boston Carpal Tunnel Questionnaire",
                        Optional.empty(),
                        List.of("symptom-severity", "functional-status"),
                        "not-stated",
                        "The Journal of Bone and Joint Surgery, Inc. (article of 1993)",
                        List.of("codes from-memory", "formula published", "missing-item rule ours"))),
                Catalogue.builtIn().summaries().stream()
                        .filter(s -> s.id().equals("bctq"))
                        .findFirst());
    }

    @Test
    void instrumentsOfAFolderAreInItsPlace() throws IOException {
        Files.writeString(
                folder.resolve("own.json"),
                Files.readString(DEFINITIONS.resolve("sane.json")).replace("\"id\": \"sane\"", "\"id\": \"own\""));
        List<String> ids = Catalogue.builtIn().with(folder).summaries().stream()
                .map(Summary::id)
                .toList();
        assertTrue(ids.contains("own"));
        assertEquals(ids.stream().sorted().toList(), ids);
    }

    @Test
    void aFileThatIsNamedOtherwiseIsRefused() throws IOException {
        Files.copy(DEFINITIONS.resolve("sane.json"), folder.resolve("other.json"));
        IndexWriter writer = new IndexWriter();
        writer.setDefinitions(folder.toFile());
        writer.setIndex(folder.resolve("index.tsv").toFile());
        assertThrows(DefinitionFaultsException.class, writer::execute);
        assertFalse(Files.exists(folder.resolve("index.tsv")));
    }

    @Test
    void whatTheIndexCannotHoldIsRefused() {
        Summary tab = new Summary("own", "A\ttab", Optional.empty(), List.of(), "generic", "nobody", List.of());
        Summary comma = new Summary("own", "Own", Optional.empty(), List.of("a,b"), "generic", "nobody", List.of());
        Summary lines = new Summary("own", "Two\nlines", Optional.empty(), List.of(), "generic", "nobody", List.of());
        for (Summary summary : List.of(tab, comma, lines)) {
            assertThrows(IllegalArgumentException.class, summary::line);
        }
    }
}
