package lumbrical.command;

import static org.junit.jupiter.api.Assertions.assertArrayEquals;
import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.stream.Collectors;
import java.util.stream.Stream;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/** Group results from the command line, on the invented demo clinic and on a few patients more. */
class CohortTest {
    private static final String DEMO = "../shared/demo/";
    private static final String KEYS = "group_by,group,instrument,scale,visit,";
    private static final Map<String, String> HEADERS = Map.of(
            "groups.csv",
            KEYS
                    + "episodes,patients,expected,received,scored,paired,mean,sd,median,q1,q3,lowest,highest,best_possible,"
                    + "worst_possible,improvement_mean,improvement_sd,improvement_low,improvement_high,interval,"
                    + "improvement_median,hodges_lehmann,effect_size,srm",
            "responders.csv",
            KEYS
                    + "mcid,mcid_source,mcid_used,paired,improved,improved_percent,low,high,worsened,beyond_error,"
                    + "could_not_reach,if_missing_not_improved_percent,if_missing_improved_percent",
            "ecdf.csv",
            KEYS + "improvement,at_least,paired,percent",
            "attrition.csv",
            KEYS + "with_follow_up,mean_with,sd_with,without,mean_without,sd_without,standardised_difference",
            "flow.csv",
            "group_by,group,instrument,visit,episodes,not_yet,closed,expected,received,scorable,paired,"
                    + "not_scored_too_few_answered,not_scored_response_not_allowed,not_scored_no_answers,"
                    + "not_scored_part_not_scored,not_scored_rule_not_published,not_scored_entered_twice",
            "compare.csv",
            KEYS
                    + "n_a,n_b,difference,low,high,adjusted_difference,adjusted_low,adjusted_high,adjusted_interval,"
                    + "probability_a_better,hodges_lehmann_shift,mcid,improved_a,improved_b,improved_difference,"
                    + "improved_low,improved_high",
            "own-mcid.csv",
            KEYS + "method,estimate,low,high,n,improved,anchor_correlation,auc,warning",
            "reliability.csv",
            KEYS + "quantity,value,low,high,n,method");

    @TempDir
    private Path folder;

    private Run demo(String out, String... more) {
        return cohort(DEMO + "responses.csv", DEMO + "episodes.csv", out, more);
    }

    private Run cohort(String responses, String episodes, String out, String... more) {
        List<String> words = new ArrayList<>(List.of("cohort", responses, "--episodes", episodes));
        words.addAll(
                List.of("--as-of", "2026-11-25", "--out", folder.resolve(out).toString()));
        words.addAll(List.of(more));
        return Run.of(words);
    }

    private String tables(String name) {
        return folder.resolve(name).toString();
    }

    @Test
    void writesEveryTableAndTwiceTheSame() throws IOException {
        for (String name : List.of("a", "b")) {
            Run run = demo(
                    name + ".xlsx",
                    "--tables",
                    tables(name),
                    "--by",
                    "condition,sex+treated_side",
                    "--compare",
                    "SEX=female,male",
                    "--anchor",
                    "GRC",
                    "--retest",
                    "30",
                    "--seed",
                    "7");
            assertEquals(0, run.status(), run.err());
            assertTrue(run.err().contains("Groups that were not randomised differ in more than their treatment."));
        }
        assertArrayEquals(Files.readAllBytes(folder.resolve("a.xlsx")), Files.readAllBytes(folder.resolve("b.xlsx")));
        for (Map.Entry<String, String> header : HEADERS.entrySet()) {
            List<String> lines = Files.readAllLines(folder.resolve("a").resolve(header.getKey()));
            assertEquals(header.getValue(), lines.get(0), header.getKey());
            assertEquals(lines, Files.readAllLines(folder.resolve("b").resolve(header.getKey())));
        }
        try (Stream<Path> files = Files.list(folder.resolve("a"))) {
            assertEquals(HEADERS.size() + 1, files.count(), "the tables and what they hold");
        }
        List<String> groups = Files.readAllLines(folder.resolve("a").resolve("groups.csv"));
        assertEquals(
                List.of("all", "condition", "sex+treated_side"),
                groups.stream()
                        .skip(1)
                        .map(line -> line.substring(0, line.indexOf(',')))
                        .distinct()
                        .toList());
        assertTrue(
                groups.stream().anyMatch(line -> line.startsWith("condition,carpal tunnel syndrome,quickdash,total,")));
        assertTrue(groups.stream().anyMatch(line -> line.startsWith("sex+treated_side,female / left,")));
    }

    @Test
    void withoutComparisonAndAnchorTheirTablesAreNotWritten() {
        assertEquals(0, demo("a.xlsx", "--tables", tables("t"), "--quiet").status());
        assertFalse(Files.exists(folder.resolve("t/compare.csv")));
        assertFalse(Files.exists(folder.resolve("t/own-mcid.csv")));
    }

    @Test
    void problemsGiveStatusOneAndTheOutput() {
        Run run = cohort(DEMO + "responses-with-mistakes.csv", DEMO + "episodes.csv", "a.xlsx");
        assertEquals(1, run.status());
        assertTrue(Files.exists(folder.resolve("a.xlsx")));
    }

    @Test
    void refusesWhatIsNotThereAndWritesNothing() throws IOException {
        String columns =
                "patient, episode, treated_side, index_date, dominant_side, sex, birth_year, condition, procedure, forms,"
                        + " closed_on, closed_reason, share.";
        String groupings = "condition, treated_side, sex, procedure, dominant_side.";
        String compare =
                ": write a column and two of its values, such as --compare \"procedure=open release,endoscopic release\"."
                        + " A value that holds a comma stands in double quotes.";
        Map<List<String>, String> refused = Map.of(
                List.of("--by", "weather"), "--by 'weather': the episodes have no such column. Columns are " + columns,
                List.of("--by", "sex+birth_year"),
                        "--by 'birth_year': episodes cannot be grouped by it; columns are " + groupings,
                List.of("--compare", "sex=female,both"),
                        "--compare 'both': no episode has this value; values are female, male.",
                List.of("--compare", "sex=female"), "--compare sex=female" + compare,
                List.of("--compare", "sex"), "--compare sex" + compare,
                List.of("--anchor", "nothing"),
                        "--anchor 'nothing': there is no such instrument; ratings of change that were read are none.",
                List.of("--anchor", "dash"),
                        "--anchor 'dash': it is no rating of change; ratings of change that were read are none.",
                List.of("--retest", "soon"), "--retest soon: write a whole number of days, such as 14.",
                List.of("--smallest-group", "0"), "--smallest-group 0: write a whole number from 1.");
        for (Map.Entry<List<String>, String> each : refused.entrySet()) {
            Run run = demo("a.xlsx", each.getKey().toArray(String[]::new));
            assertEquals(2, run.status(), each.getValue());
            assertEquals(
                    each.getValue() + " Nothing was written.", run.err().lines().collect(Collectors.joining(" ")));
        }
        assertEquals(2, demo("a.csv").status());
        assertEquals(
                2,
                Run.of(List.of("cohort", DEMO + "responses.csv", "--out", tables("a.xlsx")))
                        .status());
        Files.createDirectories(folder.resolve("t"));
        Files.writeString(folder.resolve("t/flow.csv"), "mine");
        assertEquals(2, demo("a.xlsx", "--tables", tables("t")).status());
        try (Stream<Path> left = Files.list(folder)) {
            assertEquals(1, left.count());
        }
    }

    /** Worked by hand: five patients of surgeon A improve by 2, 4, 6, 8 and 10 on a scale of 0 to 10, one of 'B, junior' by 1. */
    @Test
    void groupsByAColumnOfTheClinicsOwnAndReadsTheAnchor() throws IOException {
        StringBuilder episodes = new StringBuilder("patient,episode,treated_side,index_date,surgeon\n");
        StringBuilder responses = new StringBuilder("patient,completed_on,side,nprs_worst,grc_1\n");
        for (int i = 1; i <= 6; i++) {
            episodes.append("P%d,E1,left,2026-01-10,%s\n".formatted(i, i < 6 ? "A" : "\"B, junior\""));
            responses.append("P%d,2026-01-05,left,10,\n".formatted(i));
            responses.append("P%d,2026-07-10,left,%d,%d\n".formatted(i, i < 6 ? 10 - 2 * i : 9, i < 6 ? i - 2 : 0));
        }
        String e = Files.writeString(folder.resolve("e.csv"), episodes).toString();
        String r = Files.writeString(folder.resolve("r.csv"), responses).toString();
        Run run = cohort(
                r,
                e,
                "a.xlsx",
                "--by",
                "Surgeon",
                "--compare",
                "surgeon=A,\"B, junior\"",
                "--anchor",
                "grc",
                "--tables",
                tables("t"));
        assertEquals(0, run.status(), run.err());
        List<String> groups = rows("groups.csv", "Surgeon,A,nprs,worst,6 months,");
        // Mean 6, SD sqrt(10); t(4; 0.975) = 2.776445, so 6 - 2.776445 sqrt(2) = 2.073514.
        assertEquals(
                List.of(
                        "Surgeon,A,nprs,worst,6 months,5,5,5,5,5,5,4,3.162278,4,2,6,0,8,1,0,6,3.162278,2.073514,9.926486,t,6,6,"
                                + ",1.897367"),
                groups);
        assertEquals(
                List.of("Surgeon,A,nprs,worst,6 months,2,5,5,100", "Surgeon,A,nprs,worst,6 months,4,4,5,80"),
                rows("ecdf.csv", "Surgeon,A,nprs,worst,6 months,").subList(0, 2));
        assertEquals(List.of(), rows("ecdf.csv", "Surgeon,\"B, junior\""));
        String compared = rows("compare.csv", "all,all,nprs,worst,6 months,").get(0);
        assertTrue(compared.startsWith("all,all,nprs,worst,6 months,5,1,5,,,,,,,1,5,"), compared);
        String first = rows("own-mcid.csv", "Surgeon,A,nprs,worst,6 months,mean-change")
                .get(0);
        assertTrue(first.startsWith("Surgeon,A,nprs,worst,6 months,mean-change,6,"), first);
        assertTrue(first.contains("fewer than 50"), first);
    }

    private List<String> rows(String table, String start) throws IOException {
        return Files.readAllLines(folder.resolve("t").resolve(table)).stream()
                .filter(line -> line.startsWith(start))
                .toList();
    }
}
