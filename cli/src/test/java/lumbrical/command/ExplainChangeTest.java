package lumbrical.command;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/**
 * The arithmetic of a change, as {@code explain} shows it where the episodes are named. Invented; worked by hand with the QuickDASH's
 * published formula, (sum / answered - 1) x 25: eleven answers of 3 make 50. The index date is 2025-01-02, so that 2025-04-02 is day 90.
 */
class ExplainChangeTest {
    private static final String BEFORE = "P1,2025-01-01,right,3,3,3,3,3,3,3,3,3,3,3\n";

    @TempDir
    private Path folder;

    private Run explain(String rows, String... more) throws IOException {
        StringBuilder header = new StringBuilder("patient,completed_on,side");
        for (int i = 1; i <= 11; i++) {
            header.append(",quickdash_").append(i);
        }
        Path responses = Files.writeString(folder.resolve("r.csv"), header + "\n" + rows);
        Path episodes = Files.writeString(
                folder.resolve("e.csv"), "patient,episode,treated_side,index_date\nP1,E1,right,2025-01-02\n");
        List<String> words = new ArrayList<>(List.of(
                "explain",
                "QuickDASH",
                responses.toString(),
                "--episodes",
                episodes.toString(),
                "--as-of",
                "2026-01-01"));
        words.addAll(List.of(more));
        if (!words.contains("--patient")) {
            words.addAll(List.of("--patient", "P1"));
        }
        return Run.of(words);
    }

    private static List<String> change(Run run) {
        assertEquals(0, run.status(), run.err());
        return run.out()
                .lines()
                .dropWhile(line -> !line.startsWith("Change of "))
                .takeWhile(line -> !line.isBlank())
                .toList();
    }

    private static void holds(List<String> lines, String... starts) {
        for (String start : starts) {
            assertTrue(lines.stream().anyMatch(line -> line.startsWith(start)), start + " in " + lines);
        }
    }

    /** 26 points in all after: (26 / 11 - 1) x 25 = 34.090909, better by 15.909091; MCID 14 (Sorensen 2013), MDC90 12.85. */
    @Test
    void aChangeIsSetAgainstEveryPublishedThreshold() throws IOException {
        List<String> lines = change(explain(BEFORE + "P1,2025-04-02,right,3,3,3,3,2,2,2,2,2,2,2\n"));
        assertEquals("Change of quickdash@1 total, episode E1, visit 3 months (day 90)", lines.get(0));
        assertEquals("  baseline 2025-01-01: 50", lines.get(1));
        assertEquals("  follow-up 2025-04-02: 34.090909", lines.get(2));
        assertEquals("  change -15.909091; lower is better, so the improvement is 15.909091", lines.get(3));
        holds(
                lines,
                "    mcid 14 reached: sorensen2013-mcid ",
                "    mcid 15.91 not reached: franchignoni2014-mcid ",
                "  used: MCID 14, sorensen2013-mcid ",
                "  why these by default: ",
                "  beyond measurement error: yes",
                "  as much as patients call important: improved",
                "  verdict: important improvement");
    }

    /** One of eleven open: with ten answers of 2 the score is 25, and between 22.727273 and 31.818182 whatever the last one is. */
    @Test
    void whatOpenItemsCouldDoIsShown() throws IOException {
        List<String> lines = change(explain(BEFORE + "P1,2025-04-02,right,2,2,2,2,2,2,2,2,2,2,\n"));
        holds(
                lines,
                "  follow-up 2025-04-02: 25 (possible 22.727273 to 31.818182)",
                "  change -25; lower is better, so the improvement is 25 (possible 18.181818 to 27.272727)");
    }

    /** The same the other way: 65.909091, worse by as much. */
    @Test
    void aWorseningMirrorsAnImprovement() throws IOException {
        List<String> lines = change(explain(BEFORE + "P1,2025-04-02,right,3,3,3,3,4,4,4,4,4,4,4\n"));
        assertEquals("  change 15.909091; lower is better, so the improvement is -15.909091", lines.get(3));
        holds(lines, "    mcid 14 reached as worsening: sorensen2013-mcid ", "  verdict: important worsening");
    }

    @Test
    void withoutABaselineItSaysWhyThereIsNoVerdict() throws IOException {
        List<String> lines = change(explain("P1,2025-04-02,right,2,2,2,2,2,2,2,2,2,2,2\n"));
        assertEquals("  baseline none", lines.get(1));
        holds(lines, "  verdict: not assessable, because ");
        assertFalse(lines.stream().anyMatch(l -> l.startsWith("  change ")), lines.toString());
    }

    /** Of two forms in a window the one nearest the target (day 91) counts. */
    @Test
    void aFormThatDoesNotCountInItsWindowSaysSo() throws IOException {
        String two = "P1,2025-04-02,right,2,2,2,2,2,2,2,2,2,2,2\nP1,2025-04-22,right,3,2,2,2,2,2,2,2,2,2,2\n";
        Run run = explain(BEFORE + two, "--on", "2025-04-22");
        assertEquals(
                "Change of quickdash@1 total, episode E1, visit 3 months (day 110), not the form that counts in its window",
                change(run).get(0));
        assertTrue(run.out().startsWith("Patient P1, 2025-04-22, side right"), run.out());
        assertFalse(run.out().contains("2025-04-02"), "only what was asked for");
        assertEquals(
                "Change of quickdash@1 total, episode E1, visit 3 months (day 90)",
                change(explain(BEFORE + two, "--on", "2025-04-02")).get(0));
    }

    @Test
    void itIsWrittenToAFileOnRequest() throws IOException {
        Path out = folder.resolve("x.txt");
        Run run = explain(BEFORE, "--out", out.toString());
        assertEquals(0, run.status(), run.err());
        assertEquals("", run.out());
        String text = Files.readString(out);
        assertTrue(text.startsWith("Patient P1, 2025-01-01"), text);
        assertTrue(
                text.endsWith("Scores support and never replace clinical judgement." + System.lineSeparator()), text);
    }

    @Test
    void anIdThatIsAlmostRightIsNamed() throws IOException {
        Run run = explain(BEFORE, "--patient", "p 1");
        assertEquals(2, run.status());
        assertEquals(
                "No quickdash of patient p 1 in these files. Did you mean 'P1'?",
                run.err().lines().findFirst().orElseThrow());
        Run day = explain(BEFORE, "--on", "2025-01-03");
        assertEquals(
                "No quickdash of patient P1 on 2025-01-03 in these files. There is: quickdash on 2025-01-01.",
                day.err().lines().findFirst().orElseThrow());
    }
}
