package lumbrical.fastpath;

import java.io.ByteArrayOutputStream;
import java.io.IOException;
import java.io.UncheckedIOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.LocalDate;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import lumbrical.batch.ScoringCounts;
import lumbrical.catalogue.Catalogue;
import lumbrical.intake.ReadOptions;
import lumbrical.scoring.ScoringOptions;
import lumbrical.tabular.Input;
import lumbrical.tabular.ProgressListener;
import lumbrical.tabular.UnreadableInputException;

/** Everything that the scoring of a file says. */
record FileRun(String out, List<String> problems, String tally) {
    static FileRun of(byte[] file, int threads) {
        try {
            Path path = Files.createTempFile("rows", ".csv");
            try {
                Files.write(path, file);
                return of(path, threads);
            } finally {
                Files.delete(path);
            }
        } catch (IOException e) {
            throw new UncheckedIOException(e);
        }
    }

    static FileRun of(Path path, int threads) {
        ByteArrayOutputStream out = new ByteArrayOutputStream();
        List<String> problems = new ArrayList<>();
        try {
            ScoringCounts tally = new ScoreFiles(
                            Catalogue.builtIn(),
                            ReadOptions.asOf(LocalDate.of(2026, 11, 25)),
                            ScoringOptions.AS_DEFINED,
                            true,
                            threads,
                            ProgressListener.NONE)
                    .write(
                            List.of(new Input(path, Optional.empty())),
                            out,
                            p -> problems.add(
                                    p.place().row() + " " + p.place().column() + " " + p.value() + p.advice()));
            return new FileRun(
                    out.toString(StandardCharsets.UTF_8),
                    problems,
                    tally.reconciliation()
                            + tally.outcomeLine()
                            + tally.sittings()
                            + tally.blankForms()
                            + tally.read().longLayout()
                            + tally.read().unusedColumns());
        } catch (UnreadableInputException e) {
            return new FileRun("", List.of(), e.getMessage().replaceFirst("^[^ ]+", "FILE"));
        }
    }
}
