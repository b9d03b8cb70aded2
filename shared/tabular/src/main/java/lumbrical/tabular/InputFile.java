package lumbrical.tabular;

import java.io.IOException;
import java.io.InputStream;
import java.nio.file.Files;
import java.security.MessageDigest;
import java.security.NoSuchAlgorithmException;
import java.util.HexFormat;

/**
 * A file that was read, for the record.
 *
 * @param name without folders
 * @param sha256 hash of its bytes, in hexadecimal
 */
public record InputFile(String name, String sha256) {
    /** @throws UnreadableInputException if the file cannot be read */
    public static InputFile of(Input input) {
        try (InputStream in = Files.newInputStream(input.path())) {
            MessageDigest digest = MessageDigest.getInstance("SHA-256");
            byte[] block = new byte[1 << 16];
            for (int n = in.read(block); n >= 0; n = in.read(block)) {
                digest.update(block, 0, n);
            }
            return new InputFile(input.name(), HexFormat.of().formatHex(digest.digest()));
        } catch (IOException e) {
            throw new UnreadableInputException(input.place(), "the file cannot be read.");
        } catch (NoSuchAlgorithmException e) {
            throw new IllegalStateException("Every Java platform has SHA-256", e);
        }
    }
}
