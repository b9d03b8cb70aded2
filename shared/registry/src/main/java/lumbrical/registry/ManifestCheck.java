package lumbrical.registry;

import java.io.IOException;
import java.io.InputStream;
import java.io.OutputStream;
import java.io.UncheckedIOException;
import java.nio.file.Files;
import java.nio.file.LinkOption;
import java.nio.file.Path;
import java.security.DigestInputStream;
import java.security.MessageDigest;
import java.security.NoSuchAlgorithmException;
import java.util.ArrayList;
import java.util.HashMap;
import java.util.HashSet;
import java.util.HexFormat;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.function.Function;
import java.util.stream.Stream;
import lumbrical.document.Faults;
import lumbrical.document.Json;
import lumbrical.document.Node;
import lumbrical.problem.Place;
import lumbrical.tabular.UnreadableInputException;

/** Verifies a folder against its manifest: every file there with its hash, none besides, and counts that add up. */
public final class ManifestCheck {
    private static final long LARGEST = 64L << 20;
    private static final String LINK = ": this is a link, not a file of the folder.";

    private final Path folder;
    private final List<String> faults = new ArrayList<>();

    private ManifestCheck(Path folder) {
        this.folder = folder.toAbsolutePath().normalize(); // also of the folder that one is in
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
        return read(folder, node -> new ManifestCheck(folder).check(node));
    }

    /**
     * The files in {@code folder} that its manifest does not list, sorted.
     *
     * @throws UnreadableInputException if it is no folder with a manifest of ours
     */
    public static List<String> unlisted(Path folder) {
        return read(folder, node -> {
            Set<String> listed = new HashSet<>(listed(node).keySet());
            listed.add(Manifest.NAME);
            return present(folder).stream()
                    .filter(name -> !listed.contains(name))
                    .toList();
        });
    }

    /** Hashes of the files that the manifest lists, by name. */
    private static Map<String, String> listed(Node manifest) {
        Map<String, String> files = new HashMap<>();
        manifest.requiredElements("files")
                .forEach(e -> files.put(e.node().text("name"), e.node().text("sha256")));
        return files;
    }

    /**
     * Makes sure that a file is the one that was written with the folder, which holds data of that format.
     *
     * @throws UnreadableInputException if it is no folder with a manifest of ours, of another format, or the file is another
     */
    static void require(Path folder, RegistryFormat format, String name) {
        String as = read(folder, node -> node.text("as"));
        if (!as.equals(format.code())) {
            throw new UnreadableInputException(
                    Place.of(String.valueOf(folder.getFileName())),
                    "this upload is of the form " + as + ", not " + format.code() + ". Name the folder sent last as "
                            + format.code() + ".");
        }
        String hash = read(folder, node -> listed(node).getOrDefault(name, ""));
        try {
            Path file = folder.resolve(name);
            if (Files.isRegularFile(file, LinkOption.NOFOLLOW_LINKS)
                    && sha256(file).equals(hash)) {
                return;
            }
        } catch (IOException e) {
            throw new UnreadableInputException(Place.of(name), "the file cannot be read.");
        }
        throw new UnreadableInputException(
                Place.of(name), "the file is not as its manifest says. Name a folder as submit wrote it.");
    }

    private static <T> T read(Path folder, Function<Node, T> reading) {
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
            T result = reading.apply(node);
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
        if (isLink(folder.resolve(Manifest.NAME))) {
            faults.add(Manifest.NAME + LINK);
        }
        List<Node> files =
                node.requiredElements("files").stream().map(Node.Element::node).toList();
        for (Node file : files) {
            named.add(file.text("name"));
            checkFile(file);
        }
        present(folder).stream()
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
        if (path.startsWith(folder) && isLink(path)) {
            faults.add(name + LINK);
            return;
        }
        if (!path.startsWith(folder) || !Files.isRegularFile(path)) {
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

    /** Whether the path, or a folder on the way to it from the one that is checked, is a link, which leads elsewhere when it is sent. */
    private boolean isLink(Path path) {
        for (Path at = path; at != null && !at.equals(folder); at = at.getParent()) {
            if (Files.isSymbolicLink(at)) {
                return true;
            }
        }
        return false;
    }

    /** Hash of a file's bytes, in hexadecimal. */
    static String sha256(Path path) throws IOException {
        try (InputStream in = Files.newInputStream(path);
                DigestInputStream digest = new DigestInputStream(in, MessageDigest.getInstance("SHA-256"))) {
            digest.transferTo(OutputStream.nullOutputStream());
            return HexFormat.of().formatHex(digest.getMessageDigest().digest());
        } catch (NoSuchAlgorithmException e) {
            throw new IllegalStateException("Every Java platform has SHA-256", e);
        }
    }

    /** Everything in the folder that is no folder itself; a link counts as what it is. */
    private static List<String> present(Path folder) {
        try {
            Path root = folder.toRealPath(); // the folder itself may be named by a link
            return files(root);
        } catch (IOException e) {
            throw new UncheckedIOException(e);
        }
    }

    private static List<String> files(Path folder) throws IOException {
        try (Stream<Path> tree = Files.walk(folder)) {
            return tree.filter(path -> !Files.isDirectory(path, LinkOption.NOFOLLOW_LINKS) && !path.equals(folder))
                    .map(path -> folder.relativize(path).toString().replace('\\', '/'))
                    .sorted()
                    .toList();
        }
    }
}
