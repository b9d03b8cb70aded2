package lumbrical.registry;

import java.io.IOException;
import java.io.InputStream;
import java.io.OutputStream;
import java.io.UncheckedIOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.security.DigestInputStream;
import java.security.MessageDigest;
import java.security.NoSuchAlgorithmException;
import java.util.ArrayList;
import java.util.HashSet;
import java.util.HexFormat;
import java.util.List;
import java.util.Optional;
import java.util.Set;
import java.util.stream.Stream;
import lumbrical.document.Faults;
import lumbrical.document.Json;
import lumbrical.document.Node;
import lumbrical.problem.Place;
import lumbrical.tabular.UnreadableInputException;

/** Verifies a folder against its manifest: every file there with its hash, none besides, and counts that add up. */
public final class ManifestCheck {
    private static final long LARGEST = 64L << 20;

    private final Path folder;
    private final List<String> faults = new ArrayList<>();

    private ManifestCheck(Path folder) {
        this.folder = folder;
    }

    /**
     * What a check found.
     *
     * @param files files that were compared
     * @param faults what is wrong, a sentence each; empty = the folder is as it was written
     */
    public record Result(int files, List<String> faults) {
        /** Copies the list. */
        public Result {
            faults = List.copyOf(faults);
        }
    }

    /**
     * Checks {@code folder}.
     *
     * @throws UnreadableInputException if it is no folder with a manifest of ours
     */
    public static Result check(Path folder) {
        Path file = folder.resolve(Manifest.NAME);
        Place place = Place.of(Manifest.NAME);
        Faults read = new Faults();
        try {
            if (!Files.isRegularFile(file) || Files.size(file) > LARGEST) {
                throw new UnreadableInputException(
                        Place.of(String.valueOf(folder.getFileName())),
                        "there is no " + Manifest.NAME + " in this folder. Name a folder that submit wrote.");
            }
            Node node = Node.of(Json.parse(Files.readAllBytes(file)), "$", read);
            if (!node.optionalText("format").equals(Optional.of(Manifest.FORMAT))
                    || node.whole("version", 0) != Manifest.VERSION) {
                throw new UnreadableInputException(place, "this is no manifest of ours, or of a newer version.");
            }
            Result result = new ManifestCheck(folder).check(node);
            if (!read.none()) {
                throw new UnreadableInputException(
                        place, "the manifest is damaged (" + read.lines().get(0) + ").");
            }
            return result;
        } catch (IOException e) {
            throw new UnreadableInputException(place, "the manifest cannot be read, or is damaged.");
        }
    }

    private Result check(Node node) {
        Set<String> named = new HashSet<>();
        named.add(Manifest.NAME);
        List<Node> files =
                node.requiredElements("files").stream().map(Node.Element::node).toList();
        for (Node file : files) {
            named.add(file.text("name"));
            checkFile(file);
        }
        present().stream()
                .filter(name -> !named.contains(name))
                .forEach(name -> faults.add(name + ": this file is not in the manifest."));
        Node sittings = node.node("sittings");
        long rejected = sum(sittings.node("rejected"));
        if ((long) sittings.number("in", 0) != (long) sittings.number("sent", 0) + rejected) {
            faults.add("sittings in are not sittings sent and rejected.");
        }
        return new Result(files.size(), faults);
    }

    private static long sum(Node counts) {
        return counts.keys().stream()
                .mapToLong(key -> (long) counts.number(key, 0))
                .sum();
    }

    private void checkFile(Node file) {
        String name = file.text("name");
        Path path = folder.resolve(name).normalize();
        if (!path.startsWith(folder.normalize()) || !Files.isRegularFile(path)) {
            faults.add(name + ": the file is missing.");
            return;
        }
        try {
            if (Files.size(path) != (long) file.number("bytes", 0)) {
                faults.add(name + ": the file has another size than when it was written.");
            } else if (!sha256(path).equals(file.text("sha256"))) {
                faults.add(name + ": the file has been changed.");
            }
        } catch (IOException e) {
            faults.add(name + ": the file cannot be read.");
        }
    }

    private static String sha256(Path path) throws IOException {
        try (InputStream in = Files.newInputStream(path);
                DigestInputStream digest = new DigestInputStream(in, MessageDigest.getInstance("SHA-256"))) {
            digest.transferTo(OutputStream.nullOutputStream());
            return HexFormat.of().formatHex(digest.getMessageDigest().digest());
        } catch (NoSuchAlgorithmException e) {
            throw new IllegalStateException("Every Java platform has SHA-256", e);
        }
    }

    private List<String> present() {
        try (Stream<Path> tree = Files.walk(folder)) {
            return tree.filter(Files::isRegularFile)
                    .map(path -> folder.relativize(path).toString().replace('\\', '/'))
                    .sorted()
                    .toList();
        } catch (IOException e) {
            throw new UncheckedIOException(e);
        }
    }
}
