package lumbrical.clinic;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertThrows;

import java.io.IOException;
import java.io.UncheckedIOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.LocalDate;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import lumbrical.catalogue.Catalogue;
import lumbrical.intake.ReadOptions;
import lumbrical.problem.Problem;
import lumbrical.problem.ProblemCode;
import lumbrical.scoring.ScoringOptions;
import lumbrical.tabular.Input;
import lumbrical.tabular.InputFile;
import lumbrical.tabular.UnreadableInputException;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/**
 * From a clinic's files to what is known of its patients: an invented clinic. PRWE totals: pain is the sum of five items, function that of
 * ten halved. The index date is 2026-03-02; day 42 is 2026-04-13.
 */
class ClinicAnalysisTest {
    private static final String BLANK =
            "questionnaires left blank on these rows (each instrument of the file counts by itself) ";

    private static final LocalDate AS_OF = LocalDate.of(2026, 6, 1);
    private static final String EPISODES = "patient,episode,treated_side,index_date,condition,forms,ward";
    private static final String RESPONSES =
            "patient,completed_on,side,prwe_1,prwe_2,prwe_3,prwe_4,prwe_5,prwe_6,prwe_7,prwe_8,"
                    + "prwe_9,prwe_10,prwe_11,prwe_12,prwe_13,prwe_14,prwe_15,grc_1";

    @TempDir
    private Path folder;

    private Input file(String name, String... lines) {
        try {
            return new Input(Files.write(folder.resolve(name), List.of(lines)), Optional.empty());
        } catch (IOException e) {
            throw new UncheckedIOException(e);
        }
    }

    /** Fifteen times the same response: 5 x r + 10 x r / 2 = 10 x r. */
    private static String row(String patient, String day, int response) {
        return patient + "," + day + ",right" + ("," + response).repeat(15) + ",";
    }

    private Input responses() {
        return file(
                "responses.csv",
                RESPONSES,
                row("P1", "2026-03-01", 6),
                row("P1", "2026-04-13", 2),
                row("P2", "2026-03-01", 5),
                "P2,2026-04-13,right" + ",".repeat(16));
    }

    private Input episodes() {
        return file(
                "episodes.csv",
                EPISODES,
                "P1,E1,right,2026-03-02,trigger finger,,7",
                "P2,E2,right,2026-03-02,invented ailment,prwe,7",
                "P3,E3,right,2026-03-02,INVENTED  ailment,,7",
                "P4,E4,right,2026-03-02, ,,7");
    }

    private ClinicFiles.Builder files() {
        return ClinicFiles.builder(List.of(responses()), AS_OF).episodes(episodes());
    }

    private static ClinicResult analyse(ClinicFiles.Builder files) {
        return ClinicAnalysis.analyse(files.build(), Catalogue.builtIn());
    }

    private static List<String> said(List<Problem> problems, ProblemCode... codes) {
        return problems.stream()
                .filter(p -> List.of(codes).contains(p.code()))
                .map(p -> p.place() + ": " + p.advice())
                .toList();
    }

    private static List<String> changes(ClinicResult result) {
        return result.followUp()
                .changes()
                .filter(c -> c.followUp().scale().id().value().equals("total"))
                .map(c -> c.followUp().form().sitting().patient() + " "
                        + c.change().improvement() + " "
                        + c.change().thresholds().mcid().map(t -> t.id()).orElse("no MCID") + " "
                        + c.change().verdict().code())
                .toList();
    }

    /** P1: 60 before, 20 after, 40 better; P2 left the form blank, which its episode asks for. */
    @Test
    void oneCallGoesTheWholeWay() {
        ClinicResult result = analyse(files());
        assertEquals(
                List.of("P1 OptionalDouble[40.0] sorensen2013-mcid important-improvement"),
                changes(result).stream().filter(c -> c.startsWith("P1")).toList());
        assertEquals(
                "rows read 4 = scored 4 + nothing to score 0 + rejected 0",
                result.counts().reconciliation());
        assertEquals(
                "score rows: complete 9, with-missing 0, not-scored 3; questionnaires left blank on these rows (each instrument of the file counts by itself) 5",
                result.counts().outcomeLine(),
                "pain, function and total of three forms; of the blank form of P2 as well");
        assertEquals(
                List.of("P2"),
                result.unanswered().stream().map(r -> r.sitting().patient()).toList());
        assertEquals(List.of("ward"), result.unusedEpisodeColumns());
        assertEquals(
                List.of("responses.csv", "episodes.csv"),
                result.files().stream().map(InputFile::name).toList());
        assertEquals(4, result.followUp().episodes().size());
        assertEquals(
                result.responseProblems().size() + result.otherProblems().size(),
                result.problems().size());
    }

    /** The second spelling is the same text in another case and with a blank more; a blank cell is no condition. */
    @Test
    void aConditionThatIsNotKnownIsNotedOnce() {
        assertEquals(
                List.of(
                        "episodes.csv row 3, column condition: This is not one of the known conditions. Its episodes form a group of"
                                + " their own and get the general thresholds."),
                said(analyse(files()).problems(), ProblemCode.NOTE_CONDITION_NOT_KNOWN));
        assertEquals(
                List.of(),
                said(
                        analyse(files().conditions(Optional.of(
                                        file("conditions.csv", "text,condition", "invented ailment,trigger-finger"))))
                                .problems(),
                        ProblemCode.NOTE_CONDITION_NOT_KNOWN));
    }

    @Test
    void withoutEpisodesNothingIsPlacedInTime() {
        ClinicResult result = analyse(ClinicFiles.builder(List.of(responses()), AS_OF));
        assertEquals(List.of(), changes(result));
        assertEquals(
                "rows read 4 = scored 3 + nothing to score 1 + rejected 0",
                result.counts().reconciliation());
        assertEquals(
                List.of(),
                result.otherProblems().stream().filter(p -> !p.isNote()).toList());
        assertEquals(
                List.of("responses.csv"),
                result.files().stream().map(InputFile::name).toList());
    }

    @Test
    void aFormThatLiesInAnotherRowOfTheSittingIsNotMissing() {
        Input rows = file(
                "responses.csv", RESPONSES, "P2,2026-04-13,right" + ",".repeat(16) + "5", row("P2", "2026-04-13", 2));
        ClinicResult result = analyse(ClinicFiles.builder(List.of(rows), AS_OF).episodes(episodes()));
        assertEquals(
                "score rows: complete 4, with-missing 0, not-scored 0; questionnaires left blank on these rows (each instrument of the file counts by itself) 2",
                result.counts().outcomeLine());
    }

    /** Entered twice with different answers: told also without a table of episodes. */
    @Test
    void aFormThatWasEnteredTwiceIsTold() {
        Input rows = file("responses.csv", RESPONSES, row("P1", "2026-03-01", 6), row("P1", "2026-03-01", 5));
        for (ClinicFiles.Builder files : List.of(
                ClinicFiles.builder(List.of(rows), AS_OF),
                ClinicFiles.builder(List.of(rows), AS_OF).episodes(episodes()))) {
            assertEquals(
                    List.of("responses.csv row 3"),
                    analyse(files).problems().stream()
                            .filter(p -> p.code() == ProblemCode.DUPLICATE_SITTING)
                            .map(p -> p.place().toString())
                            .toList());
        }
    }

    /** A schedule with one window that holds day 42 and is not judged. */
    @Test
    void aScheduleAndAChoiceOfThresholdsAreUsed() {
        ClinicResult result = analyse(files().schedule(Optional.of(file(
                        "schedule.csv",
                        "visit,target_day,from_day,to_day,role,verdict",
                        "before,0,-90,0,baseline,",
                        "after,42,40,44,follow-up,no")))
                .thresholds(Optional.of(file(
                        "thresholds.csv",
                        "instrument,scale,condition,threshold_id",
                        "prwe,total,,feitz2023-mcid",
                        "quickdash,total,,franchignoni2014-mcid",
                        "prwe,total,carpal-tunnel-syndrome,feitz2023-mcid"))));
        assertEquals(
                List.of("P1 OptionalDouble[40.0] feitz2023-mcid not-assessable"),
                changes(result).stream().filter(c -> c.startsWith("P1")).toList());
        assertEquals(
                List.of(
                        "thresholds.csv row 3: No episode uses this row: none has a quickdash.",
                        "thresholds.csv row 4: No episode uses this row: none has a prwe and the condition"
                                + " carpal-tunnel-syndrome."),
                said(result.problems(), ProblemCode.NOTE_THRESHOLD_NOT_USED));
        assertEquals(
                List.of("responses.csv", "episodes.csv", "schedule.csv", "thresholds.csv"),
                result.files().stream().map(InputFile::name).toList());
    }

    @Test
    void aChoiceForAConditionThatNobodyHasIsRefused() {
        assertEquals(
                "thresholds.csv: 1 fault(s) in the choice of thresholds; none is used.\n  thresholds.csv row 2: 'trigger fingr' is"
                        + " neither a known condition nor one that the episodes name. Did you mean 'trigger finger'?",
                assertThrows(
                                UnreadableInputException.class,
                                () -> analyse(files().thresholds(Optional.of(file(
                                        "thresholds.csv",
                                        "instrument,scale,condition,threshold_id",
                                        "prwe,total,trigger fingr,feitz2023-mcid")))))
                        .getMessage());
    }

    /** PRWE pain with four of five items is scored by a rule from memory: not where only published rules count. */
    @Test
    void readingAndScoringFollowTheirOptions() {
        Input rows = file(
                "responses.csv", "patient,completed_on,prwe_1,prwe_2,prwe_3,prwe_4,prwe_5", "P1,01.03.2026,1,1,1,1,");
        ReadOptions reading = new ReadOptions(
                AS_OF,
                ReadOptions.asOf(AS_OF).notAnswered(),
                false,
                ReadOptions.asOf(AS_OF).columns(),
                ReadOptions.asOf(AS_OF).codes(),
                Optional.empty(),
                Optional.of("dd.MM.yyyy"),
                false,
                List.of());
        ClinicFiles.Builder files = ClinicFiles.builder(List.of(rows), AS_OF).reading(reading);
        assertEquals(
                1,
                said(analyse(files).problems(), ProblemCode.NOTE_RULE_FROM_MEMORY)
                        .size());
        ClinicResult published = analyse(files.scoring(new ScoringOptions(false, true)));
        assertEquals(List.of(), said(published.problems(), ProblemCode.NOTE_RULE_FROM_MEMORY));
        assertEquals(1, published.counts().sittings());
    }

    @Test
    void whoListensIsToldOfEachStage() {
        List<String> told = new ArrayList<>();
        ClinicAnalysis.analyse(files().build(), Catalogue.builtIn(), new ClinicProgressListener() {
            @Override
            public void read(Input input, long rows, double share) {
                told.add("read " + rows);
            }

            @Override
            public void begins() {
                told.add("begins");
            }

            @Override
            public void ends() {
                told.add("ends");
            }

            @Override
            public void placed() {
                told.add("placed");
            }
        });
        assertEquals(List.of("read 4", "begins", "ends", "placed"), told);
    }
}
