package lumbrical.catalogue;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertThrows;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import java.util.Optional;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/** Earlier versions are kept, read on request, and never two contents under one id and version. */
class VersionsTest {
    private static final Path DEFINITIONS = Path.of("definitions");

    @TempDir
    private Path folder;

    @Test
    void anEarlierVersionIsReadOnRequest() {
        Catalogue catalogue = Catalogue.builtIn();
        assertEquals(List.of("2", "1"), catalogue.versions("griptasks"));
        assertEquals("griptasks@2", definition(catalogue.find("griptasks")));
        assertEquals("griptasks@1", definition(catalogue.find("griptasks", "1")));
        assertEquals("griptasks@2", definition(catalogue.find("griptasks", "2")));
        assertEquals(Optional.empty(), catalogue.find("griptasks", "3"));
        assertEquals(List.of(), catalogue.versions("nothing"));
        Catalogue earlier = catalogue.reading("griptasks", "1");
        assertEquals("griptasks@1", definition(earlier.find("griptasks")));
        assertEquals("griptasks@1", definition(earlier.ownerOf("griptasks_key_right")));
        assertEquals("griptasks@2", definition(catalogue.find("griptasks")));
        assertEquals(
                "There is no griptasks@3. Versions are [2, 1]",
                assertThrows(IllegalArgumentException.class, () -> catalogue.reading("griptasks", "3"))
                        .getMessage());
    }

    private static String definition(Optional<lumbrical.instrument.Instrument> instrument) {
        return String.valueOf(instrument.orElseThrow().definition());
    }

    @Test
    void everyEarlierVersionCanBeRead() throws IOException {
        List<Path> files = Catalogue.files(DEFINITIONS.resolve("earlier"));
        for (Path file : files) {
            String[] name =
                    String.valueOf(file.getFileName()).replace(".json", "").split("@");
            assertEquals(name[0] + "@" + name[1], definition(Catalogue.builtIn().find(name[0], name[1])));
        }
        assertEquals(3, files.size());
    }

    private void own(String file, String version, String title) throws IOException {
        Files.createDirectories(folder.resolve(file).getParent());
        Files.writeString(
                folder.resolve(file),
                Files.readString(DEFINITIONS.resolve("sane.json"))
                        .replace("\"id\": \"sane\"", "\"id\": \"own\"")
                        .replace("\"version\": \"2\"", "\"version\": \"" + version + "\"")
                        .replace("Single Assessment Numeric Evaluation", title));
    }

    @Test
    void ofSeveralVersionsInAFolderTheNewestIsUsed() throws IOException {
        own("a.json", "9", "Own");
        own("b.json", "10", "Own");
        own("earlier/c.json", "2", "Own");
        Catalogue catalogue = Catalogue.builtIn().with(folder);
        assertEquals(List.of("10", "9", "2"), catalogue.versions("own"));
        assertEquals("own@10", definition(catalogue.find("own")));
        assertEquals("own@2", definition(catalogue.find("own", "2")));
        assertEquals("own@9", definition(catalogue.reading("own", "9").find("own")));
    }

    @Test
    void twoContentsUnderOneIdAndVersionAreRefused() throws IOException {
        own("a.json", "1", "Own");
        own("b.json", "1", "Own");
        assertEquals("own@1", definition(Catalogue.builtIn().with(folder).find("own")));
        own("b.json", "1", "Own, another");
        assertEquals(
                List.of("$.version: own@1 stands in a.json with other content. Raise the version."),
                assertThrows(DefinitionFaultsException.class, () -> Catalogue.builtIn()
                                .with(folder))
                        .faults());
    }

    @Test
    void anIdOfTheLibraryIsRefusedWhateverTheVersion() throws IOException {
        Files.writeString(
                folder.resolve("a.json"),
                Files.readString(DEFINITIONS.resolve("sane.json")).replace("\"version\": \"2\"", "\"version\": \"9\""));
        assertThrows(DefinitionFaultsException.class, () -> Catalogue.builtIn().with(folder));
    }

    private IndexWriter writer() {
        IndexWriter writer = new IndexWriter();
        writer.setDefinitions(folder.toFile());
        writer.setIndex(folder.resolve("index.tsv").toFile());
        writer.setEarlierIndex(folder.resolve("earlier.tsv").toFile());
        return writer;
    }

    @Test
    void theBuildRefusesAnEarlierVersionThatIsNamedOtherwiseOrStandsTwice() throws IOException {
        own("own.json", "2", "Own");
        own("earlier/own@1.json", "1", "Own");
        writer().execute();
        own("earlier/own@3.json", "1", "Own");
        assertThrows(DefinitionFaultsException.class, () -> writer().execute());
        Files.delete(folder.resolve("earlier/own@3.json"));
        own("earlier/own@2.json", "2", "Own");
        assertEquals(
                List.of("$.version: own@2 stands in two files. Raise the version of the newer."),
                assertThrows(DefinitionFaultsException.class, () -> writer().execute())
                        .faults());
    }
}
