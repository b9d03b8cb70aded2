package org.handoutcomes.table;

import java.io.IOException;
import java.io.InputStream;
import java.io.OutputStream;
import java.nio.file.Files;
import java.security.DigestInputStream;
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
    /** @throws UnreadableInput if the file cannot be read */
    public static InputFile of(Input input) {
        try (InputStream in = Files.newInputStream(input.path())) {
            MessageDigest digest = MessageDigest.getInstance("SHA-256");
            DigestInputStream digested = new DigestInputStream(in, digest);
            digested.transferTo(OutputStream.nullOutputStream());
            return new InputFile(input.name(), HexFormat.of().formatHex(digest.digest()));
        } catch (IOException e) {
            throw new UnreadableInput(input.place(), "the file cannot be read.");
        } catch (NoSuchAlgorithmException e) {
            throw new IllegalStateException("Every Java platform has SHA-256", e);
        }
    }
}
