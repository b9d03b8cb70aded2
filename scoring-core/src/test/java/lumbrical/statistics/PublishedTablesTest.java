package lumbrical.statistics;

import static lumbrical.statistics.Reference.valueOf;
import static org.junit.jupiter.api.Assertions.assertEquals;

import java.io.IOException;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

/** Against tables of the papers themselves, to the decimals printed there. */
class PublishedTablesTest {
    /** Shrout and Fleiss 1979 (Psychol Bull 86:420-428): six targets, four judges; 184/635, printed .29; mean squares 11.24, 32.49, 1.02. */
    @Test
    void iccOfShroutAndFleiss() throws IOException {
        Retest retest = valueOf(Retest.of(
                Reference.transposed(Reference.columns("in/shrout_fleiss_1979.csv", "j1", "j2", "j3", "j4"))));
        assertEquals(184.0 / 635, valueOf(retest.icc()), 1e-14);
        assertEquals(.29, valueOf(retest.icc()), .005);
        assertEquals(11.24, retest.betweenPatients(), .005);
        assertEquals(32.49, retest.betweenSittings(), .005);
        assertEquals(1.02, retest.residual(), .005);
    }

    /** Weir 2005 (J Strength Cond Res 19:231-240), set A: mean square 2099 between subjects, 30.2 between trials, 57.1 left over. */
    @Test
    void meanSquaresOfWeir() throws IOException {
        Retest retest =
                valueOf(Retest.of(Reference.transposed(Reference.columns("in/weir_2005_table1.csv", "A1", "A2"))));
        assertEquals(2099, retest.betweenPatients(), .5);
        assertEquals(30.2, retest.betweenSittings(), .0501);
        assertEquals(57.1, retest.residual(), .05);
        assertEquals(Math.sqrt(57.1), valueOf(retest.semAgreement()), .005);
    }

    /** Student 1908 (Biometrika 6:1-25): mean difference of the two drugs -1.58, SD 1.23 with n - 1. */
    @Test
    void sleepOfStudent() throws IOException {
        double[][] sleep = Reference.columns("in/student_sleep_1908.csv", "drug1", "drug2");
        double[] differences = Reference.differences(sleep[0], sleep[1]);
        assertEquals(-1.58, valueOf(Means.mean(differences)), 1e-12);
        assertEquals(1.23, valueOf(Means.sd(differences)), .005);
    }

    /** Hollander and Wolfe 1973, depression scale of nine patients: the median of the Walsh averages is 0.46. */
    @Test
    void depressionOfHollanderAndWolfe() throws IOException {
        double[][] scores = Reference.columns("in/hollander_wolfe_depression.csv", "first", "second");
        assertEquals(.46, valueOf(HodgesLehmann.location(Reference.differences(scores[0], scores[1]))), 1e-9);
    }

    /** Newcombe 1998 (Stat Med 17:873-890), method 10; the first two rows as quoted elsewhere, the others from memory. */
    @ParameterizedTest
    @CsvSource({
        "56, 70, 48, 80, .0524, .3339",
        "9, 10, 3, 10, .1705, .8090",
        "6, 7, 2, 7, .0582, .8062",
        "5, 56, 0, 29, -.0381, .1926",
        "0, 10, 0, 20, -.1611, .2775",
        "0, 10, 0, 10, -.2775, .2775",
        "10, 10, 0, 20, .6791, 1",
        "10, 10, 0, 10, .6075, 1"
    })
    void differencesOfNewcombe(long x1, long n1, long x2, long n2, double low, double high) {
        assertEquals(low, Newcombe.interval95(x1, n1, x2, n2).low(), .00005001);
        assertEquals(high, Newcombe.interval95(x1, n1, x2, n2).high(), .00005001);
        assertEquals(-low, Newcombe.interval95(x2, n2, x1, n1).high(), .00005001);
        assertEquals(-high, Newcombe.interval95(x2, n2, x1, n1).low(), .00005001);
    }
}
