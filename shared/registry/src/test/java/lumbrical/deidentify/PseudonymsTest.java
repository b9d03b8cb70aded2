package lumbrical.deidentify;

import static org.junit.jupiter.api.Assertions.assertArrayEquals;
import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertNotEquals;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.nio.charset.StandardCharsets;
import java.util.HashSet;
import java.util.HexFormat;
import java.util.List;
import java.util.Set;
import org.junit.jupiter.api.Test;

class PseudonymsTest {
    private static final Secret SECRET = Secret.of("sixteen bytes or more".getBytes(StandardCharsets.UTF_8));

    /**
     * Independent calculation: HMAC-SHA-256 by Python 3.11's {@code hmac} over the lengths (four bytes, big end first) and texts
     * 'subject', 'P1'.
     */
    @Test
    void theHashIsHmacSha256OverLengthsAndTexts() {
        assertArrayEquals(
                HexFormat.of().parseHex("ef79f20847adc9fae418aa633720b36a6db4c128d7ab923fff934951bfb2429d"),
                SECRET.hash("subject", List.of("P1")));
    }

    /** Independent calculation: the same number in base 20, least digit first, by Python. */
    @Test
    void lettersAreTheNumberInBaseTwenty() {
        assertEquals("RGGQRXDGVRGNDRXX", PseudonymAlphabet.of(SECRET.hash("subject", List.of("P1")), 16));
    }

    @Test
    void textsDoNotRunTogether() {
        assertNotEquals(
                PseudonymAlphabet.of(SECRET.hash("episode", List.of("P1", "1E")), 16),
                PseudonymAlphabet.of(SECRET.hash("episode", List.of("P11", "E")), 16));
    }

    @Test
    void shiftsLieFromAYearBackToADayBack() {
        Set<Integer> seen = new HashSet<>();
        for (int i = 0; i < 20_000; i++) {
            seen.add(SECRET.shiftDays("P" + i));
        }
        assertEquals(365, seen.size());
        assertEquals(-365, seen.stream().mapToInt(Integer::intValue).min().orElseThrow());
        assertEquals(-1, seen.stream().mapToInt(Integer::intValue).max().orElseThrow());
    }

    @Test
    void aShortSecretIsRefused() {
        assertThrows(IllegalArgumentException.class, () -> Secret.of(new byte[15]));
        assertTrue(PseudonymAlphabet.of(Secret.of(new byte[16]).hash("subject", List.of("x")), 16)
                        .length()
                == 16);
    }

    @Test
    void throwawayPseudonymsAreNeverTheSameAgain() {
        Pseudonyms first = new ThrowawayPseudonyms();
        Pseudonyms second = new ThrowawayPseudonyms();
        assertNotEquals(first.subject("P1"), second.subject("P1"));
        assertNotEquals(first.form(List.of("P1", "2023-02-03")), second.form(List.of("P1", "2023-02-03")));
        assertEquals(first.subject("P1"), first.subject("P1"));
        assertEquals("Pseudonyms are random and kept nowhere: no later upload can match this one.", first.statement());
    }
}
