package lumbrical.verification;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.IOException;
import java.io.StringWriter;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.stream.Stream;
import lumbrical.catalogue.Catalogue;
import lumbrical.instrument.Instrument;
import lumbrical.instrument.Standing;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/** The validation record. Hashes are those of {@code sha256sum}; what it must say stands in section 16 of the formats. */
class DossierTest {
    private static final Path VECTORS = Path.of("..", "..", "test-vectors");

    @TempDir
    private Path folder;

    /** A copy of the vectors of one instrument. */
    private Path copyOf(String id) throws IOException {
        Path target = Files.createDirectories(folder.resolve("vectors").resolve(id));
        try (Stream<Path> files = Files.list(VECTORS.resolve("vectors").resolve(id))) {
            for (Path file : files.toList()) {
                Files.copy(file, target.resolve(String.valueOf(file.getFileName())));
            }
        }
        return folder;
    }

    private static ReleasedFile named(List<ReleasedFile> files, String name) {
        return files.stream().filter(f -> f.name().equals(name)).findFirst().orElseThrow();
    }

    @Test
    void theFilesOfTheSourceTreeAreTheReleasedOnes() {
        List<ReleasedFile> files = ReleasedFile.of(VECTORS);
        assertEquals(List.of(), files.stream().filter(f -> !f.same()).toList());
        assertEquals(
                Catalogue.builtIn().ids().size(),
                files.stream().filter(f -> f.name().startsWith("definitions/")).count());
    }

    @Test
    void aChangedAMissingAndAStrangeFileAreTold() throws IOException {
        Path copy = copyOf("uram");
        Path changed;
        try (Stream<Path> files = Files.list(copy.resolve("vectors/uram"))) {
            changed = files.sorted().findFirst().orElseThrow();
        }
        Files.writeString(changed, Files.readString(changed) + "\n");
        Files.writeString(copy.resolve("vectors/uram/own.csv"), "# ours\n");
        List<ReleasedFile> files = ReleasedFile.of(copy);
        String name = "test-vectors/vectors/uram/" + changed.getFileName();
        assertEquals("differs from the released file", named(files, name).words());
        assertEquals(
                "not of the release",
                named(files, "test-vectors/vectors/uram/own.csv").words());
        assertEquals("missing", named(files, "test-vectors/arithmetic.csv").words());
        assertEquals("as released", named(files, "definitions/uram.json").words());
    }

    /** FIPS 180-4, example of one block: the hash of {@code abc}. */
    @Test
    void hashesAsTheStandardDoes() throws IOException {
        assertEquals(
                "ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad",
                ReleasedFile.sha256(Files.writeString(folder.resolve("abc"), "abc")));
    }

    @Test
    void everyRuleHasASourceAndTheSharesAddUp() {
        Instrument quickdash = Catalogue.builtIn().find("quickdash").orElseThrow();
        List<StatedRule> rules = StatedRule.of(quickdash);
        assertTrue(rules.stream()
                .anyMatch(r -> r.scale().equals("total") && r.what().equals("formula")));
        assertTrue(rules.stream()
                .anyMatch(r -> r.scale().equals("total") && r.what().equals("missing-item rule")));
        assertTrue(rules.stream().anyMatch(r -> r.what().equals("codes")));
        assertTrue(rules.stream().noneMatch(r -> r.source().isBlank()));
        assertEquals(
                rules.size(),
                StatedRule.byStanding(rules).values().stream()
                        .mapToLong(Long::longValue)
                        .sum());
        StatedRule ours = new StatedRule("total", "formula", Standing.OURS, "ours");
        StatedRule seen = new StatedRule("total", "codes", Standing.PUBLISHED, "x");
        assertEquals(
                List.of("published: 1 of 3 (33 %)", "ours: 2 of 3 (67 %)"),
                StatedRule.shares(List.of(ours, seen, ours)));
        Instrument mhq = Catalogue.builtIn().find("mhq").orElseThrow();
        assertTrue(StatedRule.of(mhq).stream().anyMatch(r -> r.what().equals("average of the hands")));
    }

    @Test
    void aFailedVectorAndAFactThatNothingHoldsStandInThePage() {
        Instrument uram = Catalogue.builtIn().find("uram").orElseThrow();
        Dossier.Chapter chapter = new Dossier.Chapter(
                uram,
                Optional.of(new VectorReport.PerInstrument("uram", 3, 2, Map.of("derived", 3))),
                StatedRule.of(uram),
                List.of(
                        new FactProof.Fact("uram", "fact refused", true, List.of()),
                        new FactProof.Fact(
                                "uram", "fact held", false, List.of("a.csv 1", "a.csv 2", "a.csv 3", "a.csv 4"))),
                List.of(
                        new Dossier.OpenFact("fact open", Optional.empty()),
                        new Dossier.OpenFact("fact equal", Optional.of("no scale <uses> it"))));
        Dossier dossier = new Dossier(
                List.of("program: <b>x</b>"),
                new VectorReport(List.of(), List.of("uram/a.csv 3: score is 1, expected 2")),
                List.of(chapter, new Dossier.Chapter(uram, Optional.empty(), List.of(), List.of(), List.of())),
                List.of(new ReleasedFile("definitions/uram.json", Optional.of("00"), Optional.of("11"))));
        StringWriter page = new StringWriter();
        DossierPage.write(dossier, page);
        String html = page.toString();
        for (String expected : List.of(
                "uram/a.csv 3: score is 1, expected 2",
                "definitions/uram.json: differs from the released file",
                "the definition is refused",
                "a.csv 1, a.csv 2, a.csv 3 and 1 more",
                "nobody has said so",
                "no scale &lt;uses&gt; it",
                "program: &lt;b&gt;x&lt;/b&gt;",
                "2 of 3 passed",
                "Vectors: none.",
                "It is no certification",
                "approved for use by",
                "default-src 'none'")) {
            assertTrue(html.contains(expected.replace("'", "&#39;")) || html.contains(expected), expected);
        }
        assertFalse(html.contains("<b>x"), "text of the installation is text");
    }

    /** One instrument's vectors alone: its facts are held, those of all others are open, and none has a reason. */
    @Test
    void theRecordComesFromTheVectorsThatAreThere() throws IOException {
        Dossier dossier = Dossier.of(copyOf("uram"), List.of("program: x"));
        for (Dossier.Chapter chapter : dossier.definitions()) {
            boolean uram = chapter.instrument().facts().id().value().equals("uram");
            assertEquals(uram, chapter.vectors().isPresent());
            assertEquals(uram, chapter.held().stream().anyMatch(f -> !f.refused()));
            assertTrue(chapter.open().stream().allMatch(f -> f.reason().isEmpty()));
        }
        assertTrue(dossier.report().good());
    }

    @Test
    void reasonsAreReadFromTheListOfEquivalents() throws IOException {
        Files.writeString(folder.resolve("equivalents.csv"), "definition,fact,reason\nuram,a,because\nuram,b,\n");
        assertEquals(List.of(new Equivalent("uram", "a", "because")), Equivalent.listed(folder));
        assertEquals(List.of(), Equivalent.listed(folder.resolve("none")));
    }
}
