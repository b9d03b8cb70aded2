package lumbrical.workbook;

import java.io.ByteArrayInputStream;
import java.io.ByteArrayOutputStream;
import java.io.IOException;
import java.io.OutputStream;
import java.io.UncheckedIOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.LocalDate;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import lumbrical.batch.BatchScorer;
import lumbrical.batch.ScoringCounts;
import lumbrical.catalogue.Catalogue;
import lumbrical.followup.FollowUpAnalysis;
import lumbrical.followup.FollowUpResult;
import lumbrical.followup.Schedule;
import lumbrical.intake.EpisodeReader;
import lumbrical.intake.ReadOptions;
import lumbrical.problem.Problem;
import lumbrical.scoring.ScoringOptions;
import lumbrical.sitting.ScoredForm;
import lumbrical.tabular.Input;
import lumbrical.threshold.ThresholdChoice;
import org.apache.poi.xssf.usermodel.XSSFWorkbook;

/** A clinic read from files and the workbooks written from it, as the commands do. */
record Written(FollowUpResult clinic, List<Problem> problems, ScoringCounts tally) {
    static final LocalDate AS_OF = LocalDate.of(2026, 11, 25);
    static final Path DEMO = Path.of("..", "demo");

    static Written demo() {
        return from(DEMO.resolve("responses.csv"), DEMO.resolve("episodes.csv"));
    }

    static Written from(Path responses, Path episodeFile) {
        Catalogue catalogue = Catalogue.builtIn();
        ReadOptions options = ReadOptions.asOf(AS_OF);
        EpisodeReader.Episodes episodes =
                EpisodeReader.read(new Input(episodeFile, Optional.empty()), catalogue, options);
        List<Problem> problems = new ArrayList<>();
        List<ScoredForm> forms = new ArrayList<>();
        ScoringCounts tally = new BatchScorer(
                        catalogue,
                        options,
                        new ScoringOptions(false, false),
                        BatchScorer.expectedOf(episodes.episodes()))
                .score(
                        List.of(new Input(responses, Optional.empty())),
                        (row, scored) -> forms.addAll(scored),
                        problems::add);
        problems.addAll(episodes.problems());
        FollowUpResult clinic =
                FollowUpAnalysis.look(forms, episodes.episodes(), Schedule.DEFAULT, AS_OF, ThresholdChoice.DEFAULTS);
        problems.addAll(clinic.problems());
        return new Written(clinic, problems, tally);
    }

    RunRecord provenance() {
        return new RunRecord("lumbrical test", tally.read().files(), List.of(), tally.reconciliation());
    }

    /** The bytes of the clinic's workbook. */
    byte[] book() {
        return bytes((scratch, out) ->
                ClinicWorkbook.write(clinic, problems, ThresholdChoice.DEFAULTS, provenance(), scratch, out));
    }

    /** Writes a workbook. */
    interface Writing {
        void write(Path scratch, OutputStream out) throws IOException;
    }

    static byte[] bytes(Writing writing) {
        try {
            Path scratch = Files.createTempDirectory("workbook-test");
            ByteArrayOutputStream out = new ByteArrayOutputStream();
            writing.write(scratch, out);
            Files.delete(scratch); // fails if a temporary file was left behind
            return out.toByteArray();
        } catch (IOException e) {
            throw new UncheckedIOException(e);
        }
    }

    static XSSFWorkbook open(byte[] bytes) {
        try {
            return new XSSFWorkbook(new ByteArrayInputStream(bytes));
        } catch (IOException e) {
            throw new UncheckedIOException(e);
        }
    }
}
