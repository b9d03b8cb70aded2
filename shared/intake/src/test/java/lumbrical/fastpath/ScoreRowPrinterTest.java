package lumbrical.fastpath;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.nio.charset.StandardCharsets;
import java.nio.file.Path;
import java.time.LocalDate;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import lumbrical.batch.BatchScorer;
import lumbrical.catalogue.Catalogue;
import lumbrical.columns.ScoreColumns;
import lumbrical.columns.ScoreRow;
import lumbrical.instrument.Instrument;
import lumbrical.instrument.Side;
import lumbrical.intake.ReadOptions;
import lumbrical.output.CsvTableWriter;
import lumbrical.problem.Place;
import lumbrical.scoring.Responses;
import lumbrical.scoring.ScoringOptions;
import lumbrical.scoring.ScoringPlan;
import lumbrical.sitting.ScoredForm;
import lumbrical.sitting.Sitting;
import lumbrical.tabular.Input;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;

/** The rows are those that the writer of tables gives, also where one is printed again from what was kept. */
class ScoreRowPrinterTest {
    private static final Path SITTINGS = Path.of("..", "..", "test-vectors", "independent", "random-sittings.csv");

    private static String byTheWriter(ScoredForm form, boolean guard) {
        StringBuilder text = new StringBuilder();
        CsvTableWriter<ScoreRow> csv = CsvTableWriter.withoutHeader(ScoreColumns.TABLE, text, guard);
        form.results().forEach(result -> csv.write(ScoreRow.of(form, result)));
        csv.flush();
        return text.toString();
    }

    private static String printed(ScoreRowPrinter printer, ScoredForm form) {
        ByteRow out = new ByteRow(1);
        printer.print(form, out);
        return new String(out.bytes(), 0, out.length(), StandardCharsets.UTF_8);
    }

    @Test
    void everyInstrumentIsPrintedAsByTheWriter() {
        List<ScoredForm> forms = new ArrayList<>();
        new BatchScorer(Catalogue.builtIn(), ReadOptions.asOf(LocalDate.of(2026, 11, 25)), ScoringOptions.AS_DEFINED)
                .score(List.of(new Input(SITTINGS, Optional.empty())), (row, scored) -> forms.addAll(scored), p -> {});
        assertTrue(forms.stream().map(ScoredForm::instrument).distinct().count() > 10);
        ScoreRowPrinter printer = new ScoreRowPrinter(true);
        for (int again = 0; again < 2; again++) {
            for (ScoredForm form : forms) {
                assertEquals(byTheWriter(form, true), printed(printer, form));
            }
        }
    }

    @ParameterizedTest
    @ValueSource(booleans = {true, false})
    void patientAndEpisodeAreQuotedAndGuarded(boolean guard) {
        Instrument grc = Catalogue.builtIn().find("grc").orElseThrow();
        ScoringPlan plan = ScoringPlan.of(grc);
        ScoreRowPrinter printer = new ScoreRowPrinter(guard);
        for (String text : List.of("P1", "=P", "P,1", "a \"b\"", "a\nb", "\u00d6")) {
            Responses responses = Responses.builder(grc).answer(0, 5).build();
            Sitting sitting = new Sitting(
                    text,
                    LocalDate.of(2026, 3, 9),
                    Optional.empty(),
                    Optional.of(Side.LEFT),
                    Optional.of(text),
                    Optional.empty(),
                    Optional.empty(),
                    Optional.empty(),
                    Place.of("a.csv", 2));
            ScoredForm form = new ScoredForm(sitting, grc, responses, plan.score(responses, sitting.side()));
            assertEquals(byTheWriter(form, guard), printed(printer, form));
        }
    }
}
