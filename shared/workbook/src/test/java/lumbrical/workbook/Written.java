package lumbrical.workbook;

import java.io.ByteArrayInputStream;
import java.io.ByteArrayOutputStream;
import java.io.IOException;
import java.io.OutputStream;
import java.io.UncheckedIOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.LocalDate;
import java.util.List;
import java.util.Optional;
import lumbrical.batch.ScoringCounts;
import lumbrical.catalogue.Catalogue;
import lumbrical.clinic.ClinicAnalysis;
import lumbrical.clinic.ClinicFiles;
import lumbrical.clinic.ClinicResult;
import lumbrical.followup.FollowUpResult;
import lumbrical.problem.Problem;
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
        ClinicResult result = ClinicAnalysis.analyse(
                ClinicFiles.builder(List.of(new Input(responses, Optional.empty())), AS_OF)
                        .episodes(new Input(episodeFile, Optional.empty()))
                        .build(),
                catalogue);
        return new Written(result.followUp(), result.problems(), result.counts());
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
