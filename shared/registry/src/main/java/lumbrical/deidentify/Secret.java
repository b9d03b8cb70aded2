package lumbrical.deidentify;

import java.nio.ByteBuffer;
import java.nio.charset.StandardCharsets;
import java.security.GeneralSecurityException;
import java.util.List;
import javax.crypto.Mac;
import javax.crypto.spec.SecretKeySpec;

/** Bytes that never leave the house, and the keyed hash made with them: HMAC-SHA-256 (RFC 2104, FIPS 180-4). */
public final class Secret {
    private static final String ALGORITHM = "HmacSHA256";
    private static final int FEWEST_BYTES = 16;

    private final byte[] bytes;

    private Secret(byte[] bytes) {
        this.bytes = bytes;
    }

    /**
     * The secret with these bytes; copied.
     *
     * @throws IllegalArgumentException if there are fewer than sixteen
     */
    public static Secret of(byte[] bytes) {
        if (bytes.length < FEWEST_BYTES) {
            throw new IllegalArgumentException(
                    "a secret of " + bytes.length + " bytes is too short; at least " + FEWEST_BYTES + " are needed");
        }
        return new Secret(bytes.clone());
    }

    byte[] bytes() {
        return bytes.clone();
    }

    /** Keyed hash of texts: 32 bytes. Lengths are hashed too, so that no two lists of texts run together. */
    byte[] hash(String purpose, List<String> texts) {
        try {
            Mac mac = Mac.getInstance(ALGORITHM);
            mac.init(new SecretKeySpec(bytes, ALGORITHM));
            update(mac, purpose);
            texts.forEach(text -> update(mac, text));
            return mac.doFinal();
        } catch (GeneralSecurityException e) {
            throw new IllegalStateException("Every Java platform has " + ALGORITHM, e);
        }
    }

    private static void update(Mac mac, String text) {
        byte[] utf8 = text.getBytes(StandardCharsets.UTF_8);
        mac.update(ByteBuffer.allocate(Integer.BYTES).putInt(utf8.length).array());
        mac.update(utf8);
    }

    /** Days by which a patient's dates are moved, from -365 to -1. */
    int shiftDays(String patient) {
        int number = ByteBuffer.wrap(hash("shift", List.of(patient))).getInt();
        return -1 - Integer.remainderUnsigned(number, 365);
    }
}
