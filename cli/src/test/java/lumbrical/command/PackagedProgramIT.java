package lumbrical.command;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import org.junit.jupiter.api.Test;

/** The built jar as a process of its own. */
class PackagedProgramIT {
    private record Run(int status, String out) {}

    private static Run run(String... words) throws IOException, InterruptedException {
        List<String> command = new ArrayList<>(List.of(
                Path.of(System.getProperty("java.home"), "bin", "java").toString(),
                "-Dlumbrical.home=..",
                "-jar",
                Path.of("target", "lumbrical.jar").toString()));
        command.addAll(List.of(words));
        Process process = new ProcessBuilder(command)
                .redirectError(ProcessBuilder.Redirect.DISCARD)
                .start();
        String out = new String(process.getInputStream().readAllBytes(), StandardCharsets.UTF_8);
        return new Run(process.waitFor(), out);
    }

    @Test
    void scoresAClinicsOwnInstrument() throws IOException, InterruptedException {
        Run run = run(
                "score",
                "../docs/own-instrument/responses.csv",
                "--definitions",
                "../docs/own-instrument",
                "--as-of",
                "2026-11-25");
        assertEquals(0, run.status());
        assertTrue(run.out().contains("myhand5,total,40,complete,,5,5,40,40,lower,myhand5@1"), run.out());
    }

    @Test
    void verifiesItself() throws IOException, InterruptedException {
        Run run = run("verify");
        assertEquals(0, run.status());
        assertTrue(run.out().contains("rows passed"), run.out());
    }

    @Test
    void endsWithStatusTwoAndNothingPrintedOnAMissingFile() throws IOException, InterruptedException {
        Run run = run("score", "nowhere.csv");
        assertEquals(2, run.status());
        assertEquals("", run.out());
    }
}
