package lumbrical.followup;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertNotEquals;

import java.util.List;
import lumbrical.condition.EpisodeCondition;
import lumbrical.instrument.Instrument;
import lumbrical.instrument.ScaleId;
import lumbrical.scoring.ExampleInstrument;
import org.junit.jupiter.api.Test;

/** Thresholds are found once for an instrument, scale and condition: each of them counts. */
class ThresholdSetsTest {
    private static Instrument called(String id) {
        return ExampleInstrument.called(id)
                .items(1, ExampleInstrument.codes(0, 4))
                .build();
    }

    @Test
    void eachPartTellsKeysApart() {
        Instrument instrument = called("example1");
        ScaleId scale = new ScaleId("total");
        EpisodeCondition condition = new EpisodeCondition.OwnText("a text");
        ThresholdSets.Key key = new ThresholdSets.Key(instrument, scale, condition);
        assertEquals(key, new ThresholdSets.Key(called("example1"), scale, condition));
        assertEquals(key.hashCode(), new ThresholdSets.Key(called("example1"), scale, condition).hashCode());
        for (Object other : List.of(
                new ThresholdSets.Key(called("example2"), scale, condition),
                new ThresholdSets.Key(instrument, new ScaleId("pain"), condition),
                new ThresholdSets.Key(instrument, scale, new EpisodeCondition.NotStated()),
                "key")) {
            assertNotEquals(key, other);
        }
    }
}
