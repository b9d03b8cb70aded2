package lumbrical.deidentify;

import java.math.BigInteger;

/** Writes bytes as letters: no vowels, so no words; no digits, so no numbers. */
final class PseudonymAlphabet {
    private static final String ALPHABET = "BCDFGHJKLMNPQRSTVWXZ";
    private static final BigInteger BASE = BigInteger.valueOf(ALPHABET.length());

    private PseudonymAlphabet() {}

    /** The first {@code length} letters of the number that {@code bytes} write; about 4.3 bits each. */
    static String of(byte[] bytes, int length) {
        StringBuilder letters = new StringBuilder(length);
        BigInteger rest = new BigInteger(1, bytes);
        for (int i = 0; i < length; i++) {
            BigInteger[] divided = rest.divideAndRemainder(BASE);
            letters.append(ALPHABET.charAt(divided[1].intValue()));
            rest = divided[0];
        }
        return letters.toString();
    }
}
