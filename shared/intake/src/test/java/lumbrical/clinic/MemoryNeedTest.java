package lumbrical.clinic;

import static org.junit.jupiter.api.Assertions.assertDoesNotThrow;
import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertThrows;

import java.time.LocalDate;
import java.util.Collections;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import lumbrical.catalogue.Catalogue;
import lumbrical.instrument.Instrument;
import lumbrical.problem.Place;
import lumbrical.scoring.Responses;
import lumbrical.scoring.ScoringOptions;
import lumbrical.scoring.ScoringPlan;
import lumbrical.sitting.ScoredForm;
import lumbrical.sitting.Sitting;
import org.junit.jupiter.api.Test;

/** What is told of a clinic that does not fit; the bytes are ours, worked by hand: (40 MB + 100,000 forms x (300 + 400)) / 0.9 = 122.22 MB. */
class MemoryNeedTest {
    private static List<ScoredForm> forms() {
        Instrument instrument = Catalogue.builtIn().find("sane").orElseThrow(() -> new AssertionError("no sane"));
        Sitting sitting = new Sitting(
                "P1",
                LocalDate.of(2025, 1, 1),
                Optional.empty(),
                Optional.empty(),
                Optional.empty(),
                Optional.empty(),
                Optional.empty(),
                Optional.empty(),
                Place.of("x.csv", 2));
        Responses responses = Responses.of(instrument, Map.of("1", 50.0));
        ScoredForm form = new ScoredForm(
                sitting,
                instrument,
                responses,
                ScoringPlan.of(instrument, ScoringOptions.AS_DEFINED).score(responses, Optional.empty()));
        assertEquals(1, form.results().size());
        return Collections.nCopies(100_000, form);
    }

    @Test
    void whatFitsIsLeftAlone() {
        assertDoesNotThrow(() -> MemoryNeed.check(forms(), 122_222_222));
    }

    @Test
    void whatDoesNotFitIsToldWithNumbers() {
        ClinicTooLargeException told =
                assertThrows(ClinicTooLargeException.class, () -> MemoryNeed.check(forms(), 122_222_221));
        assertEquals(
                "The memory is too small for this run: 100000 forms with 100000 scores take about 122 MB, and the program may use 122 MB.",
                told.getMessage());
        assertEquals(122, told.neededMegabytes());
    }
}
