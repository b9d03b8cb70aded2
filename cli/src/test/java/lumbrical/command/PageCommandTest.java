package lumbrical.command;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

class PageCommandTest {
    private static final Path DEMO = Path.of("..", "shared", "demo");

    @TempDir
    Path folder;

    private Path target;

    @BeforeEach
    void target() {
        target = folder.resolve("page.html");
    }

    private Run page(String... more) {
        return page(DEMO.resolve("responses.csv"), more);
    }

    private Run page(Path responses, String... more) {
        List<String> words = new ArrayList<>(List.of(
                "page",
                responses.toString(),
                "--episodes",
                DEMO.resolve("episodes.csv").toString(),
                "--as-of",
                "2026-11-25",
                "--out",
                target.toString()));
        words.addAll(List.of(more));
        return Run.of(words);
    }

    @Test
    void writesTheClinicAndSaysSo() throws IOException {
        Run run = page();
        assertEquals(0, run.status(), run.err());
        assertEquals("", run.out());
        assertTrue(run.err().contains("rows read 298 = scored 298 + nothing to score 0 + rejected 0"), run.err());
        assertTrue(run.err().endsWith("written: page.html" + System.lineSeparator()), run.err());
        String html = Files.readString(target);
        assertTrue(html.startsWith("<!DOCTYPE html>"));
        assertTrue(html.contains("id=\"filters\""));
        assertEquals(61, html.split("<article ", -1).length);
    }

    @Test
    void writesThePatientsNamedInTheirOrder() throws IOException {
        Run run = page("--patient", "P003", "--patient", "P001", "--quiet");
        assertEquals(0, run.status(), run.err());
        String html = Files.readString(target);
        assertFalse(html.contains("id=\"filters\""));
        assertTrue(html.indexOf("data-patient=\"P003\"") < html.indexOf("data-patient=\"P001\""));
        assertFalse(html.contains("data-patient=\"P002\""));
    }

    @Test
    void problemsAreListedAndThePageIsWritten() {
        Run run = page(DEMO.resolve("responses-with-mistakes.csv"));
        assertEquals(1, run.status(), run.err());
        assertTrue(Files.exists(target));
    }

    @Test
    void anUnknownPatientIsRefusedWithWhatWasMeant() {
        assertRefused(
                "--patient P02: no episode of this patient is in the table of episodes. Did you mean 'P002'?",
                page("--patient", "P02"));
        assertRefused(
                "--patient p002: no episode of this patient is in the table of episodes. Did you mean 'P002'?",
                page("--patient", "P001", "--patient", "p002"));
        assertRefused(
                "--patient Z: no episode of this patient is in the table of episodes. No form of this patient is there"
                        + " either. Check the id.",
                page("--patient", "Z"));
    }

    @Test
    void aPatientWithoutAnEpisodeIsToldApart() throws IOException {
        Path responses = folder.resolve("more.csv");
        Files.writeString(responses, "patient,completed_on,sane_1\nGUEST,2026-03-09,70\n");
        assertRefused(
                "--patient GUEST: no episode of this patient is in the table of episodes. There are forms of this"
                        + " patient: add the episode.",
                page(responses, "--patient", "GUEST"));
    }

    @Test
    void onlyHtmlIsWritten() throws IOException {
        target = folder.resolve("page.csv");
        assertRefused("--out page.csv: this cannot be written here. Name a file that ends in .html.", page());
        target = folder.resolve("page.html");
        Files.writeString(target, "mine");
        assertEquals(2, page().status());
        assertEquals("mine", Files.readString(target));
        assertEquals(0, page("--overwrite", "--quiet").status());
        assertTrue(Files.size(target) > 100_000);
    }

    @Test
    void theEpisodesAreNeeded() {
        Run run = Run.of(List.of("page", DEMO.resolve("responses.csv").toString(), "--out", target.toString()));
        assertRefused("--episodes is missing. Name the table of episodes, such as --episodes episodes.csv.", run);
    }

    private void assertRefused(String message, Run run) {
        assertEquals(2, run.status(), run.err());
        assertTrue(run.err().contains(message), run.err());
    }
}
