package lumbrical.command;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import org.apache.commons.csv.CSVFormat;
import org.apache.commons.csv.CSVParser;
import org.apache.commons.csv.CSVRecord;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/**
 * A clinic's choice of thresholds, through the program. The patient is invented: eleven answers of 3 before, 26 points in all after, so
 * the score falls by 7 item-points from 50 to 34.09, by 15.909. Franchignoni F et al. 2014 give an MCID of 15.91, Sorensen AA et al.
 * 2013 one of 14, and the former an MDC90 of 12.85.
 */
class ThresholdOptionTest {
    @TempDir
    private Path folder;

    private String file(String name, String... lines) throws IOException {
        return Files.write(folder.resolve(name), List.of(lines)).toString();
    }

    private static String items() {
        StringBuilder items = new StringBuilder();
        for (int i = 1; i <= 11; i++) {
            items.append(",quickdash_").append(i);
        }
        return items.toString();
    }

    private Map<String, String> change(String... more) throws IOException {
        return changeOf(
                file(
                        "responses.csv",
                        "patient,completed_on,side" + items(),
                        "P1,2025-01-01,right,3,3,3,3,3,3,3,3,3,3,3",
                        "P1,2025-04-02,right,3,3,3,3,2,2,2,2,2,2,2"),
                more);
    }

    private Map<String, String> changeOf(String responses, String... more) throws IOException {
        String episodes = file(
                "episodes.csv",
                "patient,episode,treated_side,condition,index_date",
                "P1,E1,right,a condition of no list,2025-01-02");
        Path tables = Files.createTempDirectory(folder, "tables");
        List<String> args = new ArrayList<>(List.of(
                "track",
                responses,
                "--episodes",
                episodes,
                "--as-of",
                "2026-01-01",
                "--overwrite",
                "--out",
                folder.resolve("w.xlsx").toString(),
                "--tables",
                tables.toString()));
        args.addAll(List.of(more));
        Run run = Run.of(args);
        assertEquals(0, run.status(), run.err());
        Map<String, String> only = new HashMap<>();
        try (CSVParser parser = CSVParser.parse(
                Files.readString(tables.resolve("change.csv")),
                CSVFormat.DEFAULT
                        .builder()
                        .setHeader()
                        .setSkipHeaderRecord(true)
                        .get())) {
            for (CSVRecord record : parser) {
                if (record.get("scale").equals("total")) {
                    only.putAll(record.toMap());
                }
            }
        }
        return only;
    }

    @Test
    void withoutAChoiceTheDefaultHolds() throws IOException {
        Map<String, String> row = change();
        assertEquals("15.909091", row.get("improvement"));
        assertEquals("14", row.get("mcid"));
        assertTrue(row.get("mcid_source").startsWith("sorensen2013-mcid "), row.get("mcid_source"));
        assertEquals("important-improvement", row.get("verdict"));
    }

    @Test
    void theChoiceForAllConditionsIsUsedAndNamed() throws IOException {
        String choice =
                file("choice.csv", "instrument,scale,condition,threshold_id", "quickdash,total,,franchignoni2014-mcid");
        Map<String, String> row = change("--thresholds", choice);
        assertEquals("15.91", row.get("mcid"));
        assertTrue(row.get("mcid_source").startsWith("franchignoni2014-mcid "), row.get("mcid_source"));
        assertEquals("no", row.get("reaches_mcid"), "15.909 is less than 15.91");
        assertEquals("12.85", row.get("mdc"));
        assertEquals("small-improvement", row.get("verdict"));
    }

    @Test
    void theChoiceForTheConditionComesBeforeTheOneForAll() throws IOException {
        String choice = file(
                "choice.csv",
                "instrument,scale,condition,threshold_id",
                "quickdash,total,,franchignoni2014-mcid",
                "quickdash,total,a condition of no list,ueclinic2020-mcid");
        assertEquals("6.8", change("--thresholds", choice).get("mcid"));
    }

    @Test
    void aThresholdThatDoesNotExistIsRefusedByName() throws IOException {
        String choice =
                file("choice.csv", "instrument,scale,condition,threshold_id", "quickdash,total,,nobody1999-mcid");
        Run run = Run.of(List.of(
                "track",
                file("r.csv", "patient,completed_on,side" + items(), "P1,2025-01-01,right,3,3,3,3,3,3,3,3,3,3,3"),
                "--episodes",
                file("e.csv", "patient,episode,treated_side,condition,index_date", "P1,E1,right,x,2025-01-02"),
                "--thresholds",
                choice,
                "--out",
                folder.resolve("w.xlsx").toString()));
        assertEquals(2, run.status());
        assertTrue(run.err().contains("nobody1999-mcid"), run.err());
    }

    /** The values as the papers' abstracts print them. */
    @Test
    void theListHasWhatCanBeChosen() {
        Run run = Run.of(List.of("instruments", "quickdash", "--list-thresholds"));
        assertEquals(0, run.status(), run.err());
        List<String> lines = run.out().lines().toList();
        assertTrue(lines.get(0).contains("kind | value"), lines.get(0));
        assertTrue(lines.stream()
                .anyMatch(l -> l.startsWith("total | mcid | 15.91 ") && l.contains("| franchignoni2014-mcid |")));
        assertTrue(lines.stream()
                .anyMatch(l -> l.startsWith("total | mcid | 14 ") && l.contains("| sorensen2013-mcid |")));
        assertTrue(lines.stream().anyMatch(l -> l.startsWith("total | mdc90 | 12.85 ")));
    }

    /**
     * The form of the patient's own activities gives an MDC90 of 2 for the mean of several and of 3 for a single one. Invented ratings:
     * of activities 1 to 3 before (2, 3, 4) only the third was rated again (6), so the improvement of 2 rests on one.
     */
    @Test
    void aChangeOverOneActivityIsSetAgainstTheErrorOfOne() throws IOException {
        String one = file(
                "one.csv",
                "patient,completed_on,psfs_1,psfs_2,psfs_3,psfs_4",
                "P1,2025-01-01,2,3,4,",
                "P1,2025-04-02,,,6,9");
        Map<String, String> row = changeOf(one);
        assertEquals("2", row.get("improvement"));
        assertEquals("3", row.get("mdc"));
        assertEquals("no", row.get("beyond_error"));
        assertEquals("no-important-change", row.get("verdict"));
        String two = file(
                "two.csv",
                "patient,completed_on,psfs_1,psfs_2,psfs_3,psfs_4",
                "P1,2025-01-01,2,3,4,",
                "P1,2025-04-02,,5,6,9");
        Map<String, String> several = changeOf(two);
        assertEquals("2", several.get("improvement"));
        assertEquals("2", several.get("mdc"));
        assertEquals("small-improvement", several.get("verdict"));
        String choice = file("choice.csv", "instrument,scale,condition,threshold_id", "psfs,total,,psfs-form-mdc90");
        assertEquals("2", changeOf(one, "--thresholds", choice).get("mdc"), "the user's own choice holds");
    }
}
