package lumbrical.statistics;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertThrows;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import lumbrical.instrument.Range;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

/** Against general-purpose statistics software: R 4.2.2, prop.test(correct=FALSE) and quantile(type = 7). */
class StatisticsTest {
    @ParameterizedTest
    @CsvSource({
        "81, 263, 0.255288519878274, 0.3662095769828",
        "15, 148, 0.0623863995307363, 0.160487241723308",
        "0, 20, 0, 0.161125158053",
        "1, 29, 0.006113214293, 0.171755218793",
        "43, 60, 0.592327148356, 0.814931715716"
    })
    void wilsonIntervals(long count, long of, double low, double high) {
        Range interval = Wilson.interval95(count, of);
        assertEquals(low, interval.low(), 1e-9);
        assertEquals(high, interval.high(), 1e-9);
        Range mirrored = Wilson.interval95(of - count, of);
        assertEquals(1 - high, mirrored.low(), 1e-9);
    }

    @Test
    void noProportionIsRefused() {
        assertThrows(IllegalArgumentException.class, () -> Wilson.interval95(0, 0));
        assertThrows(IllegalArgumentException.class, () -> Wilson.interval95(5, 4));
        assertThrows(IllegalArgumentException.class, () -> Wilson.interval95(-1, 4));
        assertEquals(1.0, Wilson.interval95(4, 4).high());
    }

    /** Of one, the formula comes to 1 / (1 + z²) and its mirror; z = 1.959963984540054. */
    @Test
    void wilsonIntervalOfASingleCase() {
        double z2 = 3.841458820694124;
        assertEquals(1 / (1 + z2), Wilson.interval95(1, 1).low(), 1e-12);
        assertEquals(1.0, Wilson.interval95(1, 1).high());
        assertEquals(0.0, Wilson.interval95(0, 1).low());
        assertEquals(z2 / (1 + z2), Wilson.interval95(0, 1).high(), 1e-12);
    }

    @Test
    void quantilesOfTheReferenceCohort() throws IOException {
        List<String> lines = Files.readAllLines(Path.of("..", "shared", "reference", "in", "cohort60.csv"));
        double[] improvements = lines.stream()
                .skip(1)
                .map(line -> line.split(","))
                .mapToDouble(c -> Double.parseDouble(c[2]) - Double.parseDouble(c[3]))
                .toArray();
        Quantiles q = Quantiles.of(improvements);
        assertEquals(60, q.n());
        assertEquals(20.191666666667, q.mean(), 1e-9);
        assertEquals(19, q.median(), 1e-9);
        assertEquals(10.375, q.lowerQuartile(), 1e-9);
        assertEquals(30.75, q.upperQuartile(), 1e-9);
    }

    @Test
    void quantilesNeedNumbers() {
        assertThrows(IllegalArgumentException.class, () -> Quantiles.of(new double[0]));
        assertThrows(IllegalArgumentException.class, () -> Quantiles.of(new double[] {1, Double.NaN}));
        assertEquals(4, Quantiles.of(new double[] {4}).upperQuartile());
    }
}
