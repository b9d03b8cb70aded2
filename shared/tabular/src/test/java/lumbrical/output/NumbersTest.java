package lumbrical.output;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.math.BigDecimal;
import net.jqwik.api.ForAll;
import net.jqwik.api.Property;
import net.jqwik.api.constraints.DoubleRange;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.ValueSource;

/** Expected texts follow from the rule by hand: at most six decimals, half away from zero, no zeros at the end. */
class NumbersTest {
    @ParameterizedTest(name = "{0} is printed as {1}")
    @CsvSource({
        "0, 0",
        "-0.0, 0",
        "50, 50",
        "-5, -5",
        "2.50, 2.5",
        "0.30000000000000004, 0.3",
        "0.3333333333333333, 0.333333",
        "0.6666666666666666, 0.666667",
        "-0.6666666666666666, -0.666667",
        "0.0000004, 0",
        "-0.0000004, 0",
        "0.0000005, 0.000001",
        "-0.0000005, -0.000001",
        "0.000001, 0.000001",
        "19.9999999, 20",
        "29.9999994, 29.999999",
        "100.000001, 100.000001",
        "999999999.9999999, 1000000000",
        "1000000000, 1000000000",
        "1234567890.125, 1234567890.125",
        "-1234567890.125, -1234567890.125",
        "1e15, 1000000000000000",
        "1e22, 10000000000000000000000",
        "1e-30, 0"
    })
    void printsPlainNumbers(double value, String expected) {
        assertEquals(expected, Numbers.format(value));
    }

    @ParameterizedTest
    @ValueSource(doubles = {Double.NaN, Double.POSITIVE_INFINITY, Double.NEGATIVE_INFINITY})
    void refusesWhatIsNoNumber(double value) {
        assertThrows(IllegalArgumentException.class, () -> Numbers.format(value));
    }

    @Property
    void isWithinHalfAMillionthAndHasNoZerosAtTheEnd(@ForAll @DoubleRange(min = -2e9, max = 2e9) double value) {
        String text = Numbers.format(value);
        assertTrue(text.matches("-?(0|[1-9][0-9]*)([.][0-9]{0,5}[1-9])?"), text);
        double away = new BigDecimal(text).subtract(new BigDecimal(value)).abs().doubleValue();
        assertTrue(away <= 0.5000001e-6, text + " for " + value);
    }
}
