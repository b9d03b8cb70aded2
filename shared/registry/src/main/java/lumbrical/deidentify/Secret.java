package lumbrical.deidentify;

import java.io.IOException;
import java.nio.ByteBuffer;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.security.GeneralSecurityException;
import java.security.MessageDigest;
import java.security.NoSuchAlgorithmException;
import java.util.List;
import javax.crypto.Mac;
import javax.crypto.spec.SecretKeySpec;
import lumbrical.problem.Place;
import lumbrical.tabular.UnreadableInputException;

/** Bytes that never leave the house, and the keyed hash made with them: HMAC-SHA-256 (RFC 2104, FIPS 180-4). */
public final class Secret {
    private static final String ALGORITHM = "HmacSHA256";
    private static final int FEWEST_BYTES = 16;
    private static final int MOST_BYTES = 1_000_000;

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

    /**
     * A secret made from a whole file that stays in the house. It is the same as long as the file is; who has not the file cannot
     * make it.
     */
    public static Secret fromFile(byte[] content) {
        try {
            MessageDigest digest = MessageDigest.getInstance("SHA-256");
            digest.update("lumbrical secret of a file\0".getBytes(StandardCharsets.UTF_8));
            return new Secret(digest.digest(content));
        } catch (NoSuchAlgorithmException e) {
            throw new IllegalStateException("Every Java platform has SHA-256", e);
        }
    }

    /**
     * The secret in a file.
     *
     * @throws UnreadableInputException if there is no such file, others may read it, or it is shorter than sixteen or longer than a
     *     million bytes
     */
    public static Secret read(String name) {
        Path path = Path.of(name);
        Place place = Place.of(String.valueOf(path.getFileName()));
        try {
            if (!Files.isRegularFile(path) || Files.size(path) < FEWEST_BYTES || Files.size(path) > MOST_BYTES) {
                throw new UnreadableInputException(
                        place,
                        "a secret is a file of " + FEWEST_BYTES + " to " + MOST_BYTES
                                + " bytes that nobody can guess. Make one, and keep it at home.");
            }
            OwnerOnly.require(path, place);
            return new Secret(Files.readAllBytes(path));
        } catch (IOException e) {
            throw new UnreadableInputException(place, "the file cannot be read.");
        }
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
