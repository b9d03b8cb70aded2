package lumbrical.number;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertThrows;

import java.util.List;
import org.junit.jupiter.api.Test;

class FiguresTest {
    private static final Figures ONE = new Figures(1);

    @Test
    void roundsHalfAwayFromZeroAndKeepsNoNegativeZero() {
        assertEquals("20.5", ONE.plain(20.45));
        assertEquals("-20.5", ONE.plain(-20.45));
        assertEquals("0", ONE.plain(-0.04));
        assertEquals("20", ONE.plain(20.04));
    }

    @Test
    void aColumnHasAllDecimals() {
        assertEquals("20.0", ONE.fixed(20));
        assertEquals("-3.10", new Figures(2).fixed(-3.1));
    }

    @Test
    void tellsApartWhatPrintsAlike() {
        assertEquals("14.96", ONE.tellingApart(14.96, List.of(15.0)).plain(14.96));
        assertEquals("0.03", ONE.tellingApart(0.03, List.of()).plain(0.03));
        assertEquals(1, ONE.tellingApart(15, List.of(15.0)).decimals());
        assertEquals(1, ONE.tellingApart(15 + 1e-10, List.of(15.0)).decimals(), "equal within 0.000000001");
        assertEquals("15.00000001", ONE.tellingApart(15 + 1e-8, List.of(15.0)).plain(15 + 1e-8));
    }

    @Test
    void decimalsHaveBounds() {
        assertThrows(IllegalArgumentException.class, () -> new Figures(-1));
        assertThrows(IllegalArgumentException.class, () -> new Figures(10));
        assertEquals("0.00", Figures.ofScaleWidth(20).fixed(-0.001));
        assertEquals("20.0", Figures.ofScaleWidth(100).fixed(19.96));
    }

    @Test
    void onePointIsNoPoints() {
        assertEquals("1 point", ONE.points(1));
        assertEquals("1.1 points", ONE.points(1.1));
        assertEquals("0 points", ONE.points(0));
    }
}
