package lumbrical.workbook;

import static org.junit.jupiter.api.Assertions.assertEquals;

import lumbrical.catalogue.Catalogue;
import lumbrical.instrument.Direction;
import lumbrical.instrument.Scale;
import org.junit.jupiter.api.Test;

class SparklineTest {
    private static Scale scale(String instrument) {
        return Catalogue.builtIn().find(instrument).orElseThrow().scales().get(0);
    }

    @Test
    void higherIsBetterWhicheverWayTheScaleRuns() {
        Scale lower = scale("quickdash");
        assertEquals(Direction.LOWER, lower.better());
        assertEquals("▁▂▃▄▅▆▇█", Sparkline.of(lower, new double[] {100, 87.5, 75, 62.5, 50, 37.5, 25, 12.5}));
        assertEquals("█", Sparkline.of(lower, new double[] {0}));
        Scale higher = scale("swv");
        assertEquals(Direction.HIGHER, higher.better());
        assertEquals("▁·█", Sparkline.of(higher, new double[] {0, Double.NaN, 100}));
    }
}
