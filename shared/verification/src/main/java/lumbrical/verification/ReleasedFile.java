package lumbrical.verification;

import java.io.IOException;
import java.io.InputStream;
import java.io.UncheckedIOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.security.MessageDigest;
import java.security.NoSuchAlgorithmException;
import java.util.ArrayList;
import java.util.HexFormat;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.TreeMap;
import java.util.stream.Stream;
import lumbrical.catalogue.Catalogue;

/**
 * A definition or vector file of this installation against the one released.
 *
 * @param name {@code definitions/NAME} or {@code test-vectors/...}
 * @param sha256 hash of its bytes, in hexadecimal; empty if the installation lacks it
 * @param released that of the released file; empty if the release has none of this name
 */
public record ReleasedFile(String name, Optional<String> sha256, Optional<String> released) {
    /** Whether it is the released one. */
    public boolean same() {
        return sha256.equals(released);
    }

    /** What is different, in words. */
    public String words() {
        if (same()) {
            return "as released";
        }
        return sha256.isEmpty()
                ? "missing"
                : released.isEmpty() ? "not of the release" : "differs from the released file";
    }

    /**
     * Every definition in use and every file of {@code vectors}, the installation's {@code test-vectors}, by name.
     *
     * @throws UncheckedIOException if the folder cannot be read
     */
    public static List<ReleasedFile> of(Path vectors) {
        Map<String, String> here = new TreeMap<>();
        Catalogue.builtInFiles().forEach((name, bytes) -> here.put("definitions/" + name, sha256(bytes)));
        try (Stream<Path> files = Files.walk(vectors)) {
            for (Path file : files.filter(f -> f.toString().endsWith(".csv")).toList()) {
                String name = vectors.relativize(file).toString().replace('\\', '/');
                here.put("test-vectors/" + name, sha256(Files.readAllBytes(file)));
            }
        } catch (IOException e) {
            throw new UncheckedIOException(e);
        }
        Map<String, String> released = asReleased();
        List<ReleasedFile> all = new ArrayList<>();
        Stream.concat(here.keySet().stream(), released.keySet().stream())
                .distinct()
                .sorted()
                .forEach(name -> all.add(new ReleasedFile(
                        name, Optional.ofNullable(here.get(name)), Optional.ofNullable(released.get(name)))));
        return all;
    }

    /** The hashes that the build wrote: of each file a line of hash and path. */
    private static Map<String, String> asReleased() {
        try (InputStream in = ReleasedFile.class.getResourceAsStream("released.sha256")) {
            if (in == null) {
                throw new IllegalStateException("The program lacks the list of its released files");
            }
            Map<String, String> released = new TreeMap<>();
            new String(in.readAllBytes(), StandardCharsets.UTF_8)
                    .lines()
                    .filter(line -> !line.isBlank())
                    .forEach(line -> released.put(name(line), line.substring(0, line.indexOf(' '))));
            return released;
        } catch (IOException e) {
            throw new UncheckedIOException(e);
        }
    }

    private static String name(String line) {
        String path = line.replace('\\', '/');
        int vectors = path.lastIndexOf("/test-vectors/");
        return path.substring((vectors >= 0 ? vectors : path.lastIndexOf("/definitions/")) + 1);
    }

    /**
     * Hash of a file's bytes, in hexadecimal.
     *
     * @throws UncheckedIOException if it cannot be read
     */
    public static String sha256(Path file) {
        try {
            return sha256(Files.readAllBytes(file));
        } catch (IOException e) {
            throw new UncheckedIOException(e);
        }
    }

    private static String sha256(byte[] bytes) {
        try {
            return HexFormat.of().formatHex(MessageDigest.getInstance("SHA-256").digest(bytes));
        } catch (NoSuchAlgorithmException e) {
            throw new IllegalStateException("Every Java platform has SHA-256", e);
        }
    }
}
