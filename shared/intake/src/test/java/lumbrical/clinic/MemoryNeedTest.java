package lumbrical.clinic;

import static org.junit.jupiter.api.Assertions.assertDoesNotThrow;
import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertThrows;

import java.time.LocalDate;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.stream.IntStream;
import lumbrical.catalogue.Catalogue;
import lumbrical.instrument.Instrument;
import lumbrical.problem.Place;
import lumbrical.scoring.Responses;
import lumbrical.scoring.ScoreResult;
import lumbrical.scoring.ScoringOptions;
import lumbrical.scoring.ScoringPlan;
import lumbrical.sitting.ScoredForm;
import lumbrical.sitting.Sitting;
import org.junit.jupiter.api.Test;

/**
 * What is told of a clinic that does not fit; the bytes are ours, worked by hand: (45 MB + 25,000 sittings x 400 + 100,000 forms x (120 + 350))
 * / 0.9 = 113.33 MB.
 */
class MemoryNeedTest {
    /** Four forms in each row. */
    private static List<ScoredForm> forms() {
        Instrument instrument = Catalogue.builtIn().find("sane").orElseThrow(() -> new AssertionError("no sane"));
        Responses responses = Responses.of(instrument, Map.of("1", 50.0));
        List<ScoreResult> scores =
                ScoringPlan.of(instrument, ScoringOptions.AS_DEFINED).score(responses, Optional.empty());
        assertEquals(1, scores.size());
        return IntStream.range(0, 100_000)
                .mapToObj(i -> new ScoredForm(sitting(2 + i / 4), instrument, responses, scores))
                .toList();
    }

    private static Sitting sitting(int row) {
        return new Sitting(
                "P1",
                LocalDate.of(2025, 1, 1),
                Optional.empty(),
                Optional.empty(),
                Optional.empty(),
                Optional.empty(),
                Optional.empty(),
                Optional.empty(),
                Place.of("x.csv", row));
    }

    @Test
    void whatFitsIsLeftAlone() {
        assertDoesNotThrow(() -> MemoryNeed.check(forms(), 113_333_333));
    }

    @Test
    void whatDoesNotFitIsToldWithNumbers() {
        ClinicTooLargeException told =
                assertThrows(ClinicTooLargeException.class, () -> MemoryNeed.check(forms(), 113_333_332));
        assertEquals(
                "The memory is too small for this run: 100000 forms with 100000 scores take about 113 MB, and the program may use 113 MB.",
                told.getMessage());
        assertEquals(113, told.neededMegabytes());
    }
}
