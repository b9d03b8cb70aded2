package lumbrical.followup;

import static lumbrical.scoring.ExampleInstrument.PUBLISHED;
import static org.junit.jupiter.api.Assertions.assertEquals;

import java.util.List;
import java.util.Map;
import java.util.Optional;
import lumbrical.instrument.Instrument;
import lumbrical.instrument.ItemRule;
import lumbrical.instrument.Range;
import lumbrical.instrument.Side;
import lumbrical.scoring.ExampleInstrument;
import lumbrical.scoring.Reason;
import org.junit.jupiter.api.Test;

/** A clinic counted by hand: invented patients. */
class ClinicCountsTest {
    private static final Instrument LEVEL = ExampleInstrument.called("level")
            .items(2, ExampleInstrument.mark(0, 100))
            .scale("total", new ItemRule.Mean(PUBLISHED), ExampleInstrument.atLeast(1), new Range(0, 100))
            .build();

    private static String both(double value) {
        return "1=" + value + " 2=" + value;
    }

    /**
     * P1 right 80 to 40 (improved by 40), P2 right 60 to 40 (by 20, within error), P3 left 10 to 50 (worse by 40, no room), P4
     * without a baseline 30, P1 left 50 without a follow-up and with another that cannot be scored.
     */
    private static ExampleClinic clinic() {
        return new ExampleClinic()
                .episodes(
                        ExampleEpisode.called("E1"),
                        ExampleEpisode.called("E2").left(),
                        ExampleEpisode.called("E1").patient("P2"),
                        ExampleEpisode.called("E1").patient("P3").left(),
                        ExampleEpisode.called("E1").patient("P4"),
                        ExampleEpisode.called("E2").patient("P4"))
                .sitting(-1, LEVEL, both(80))
                .sitting(42, LEVEL, both(40))
                .sitting(44, LEVEL, both(0)) // farther from the target: not used
                .of("P1", Optional.of(Side.LEFT))
                .sitting(-1, LEVEL, both(50))
                .sitting(42, LEVEL, "1=101")
                .of("P2", Optional.of(Side.RIGHT))
                .sitting(-1, LEVEL, both(60))
                .sitting(42, LEVEL, both(40))
                .of("P3", Optional.of(Side.LEFT))
                .sitting(-1, LEVEL, both(10))
                .sitting(42, LEVEL, both(50))
                .of("P4", Optional.of(Side.RIGHT))
                .naming("E1")
                .sitting(42, LEVEL, both(30))
                .sitting(91, LEVEL, "");
    }

    @Test
    void countsPatientsEpisodesAndSittings() {
        ClinicCounts counts = ClinicCounts.of(clinic().analyse());
        assertEquals(
                List.of(4, 6, 1, 10),
                List.of(counts.patients(), counts.episodes(), counts.bilateral(), counts.sittings()));
        assertEquals(Map.of(Reason.RESPONSE_NOT_ALLOWED, 1), counts.notScored());
    }
}
