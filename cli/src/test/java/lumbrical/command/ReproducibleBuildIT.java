package lumbrical.command;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.IOException;
import java.io.UncheckedIOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.FileVisitResult;
import java.nio.file.Files;
import java.nio.file.Path;
import java.nio.file.SimpleFileVisitor;
import java.nio.file.attribute.BasicFileAttributes;
import java.util.Arrays;
import java.util.List;
import java.util.Set;
import java.util.TreeMap;
import java.util.TreeSet;
import java.util.stream.Stream;
import java.util.zip.ZipEntry;
import java.util.zip.ZipFile;
import org.junit.jupiter.api.Tag;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/** Two builds of the same sources, in another folder, time zone, language and default encoding, give the same jars. */
@Tag("deep")
class ReproducibleBuildIT {
    private static final Set<String> LEFT_OUT = Set.of("target", ".git", ".idea", ".vscode", ".settings");
    private static final Path BUILT = Path.of("target");

    @Test
    void aSecondBuildElsewhereGivesTheSameBytes(@TempDir Path folder) throws IOException, InterruptedException {
        Path elsewhere = folder.resolve("with spaces and äöü");
        copySources(Path.of(".."), elsewhere);
        build(elsewhere);
        TreeMap<String, Path> first = jars(BUILT);
        TreeMap<String, Path> second = jars(elsewhere.resolve("cli").resolve(BUILT));
        assertTrue(first.containsKey("lumbrical.jar"), () -> "only " + first.keySet());
        assertTrue(first.keySet().stream().anyMatch(name -> name.contains("scoring-core")));
        assertEquals(first.keySet(), second.keySet());
        Set<String> different = new TreeSet<>();
        for (String name : first.keySet()) {
            if (!Arrays.equals(Files.readAllBytes(first.get(name)), Files.readAllBytes(second.get(name)))) {
                different.add(name + entriesThatDiffer(first.get(name), second.get(name)));
            }
        }
        assertEquals(Set.of(), different);
    }

    private static void copySources(Path from, Path to) throws IOException {
        Files.walkFileTree(from, new SimpleFileVisitor<>() {
            @Override
            public FileVisitResult preVisitDirectory(Path dir, BasicFileAttributes attributes) throws IOException {
                if (LEFT_OUT.contains(dir.getFileName().toString())) {
                    return FileVisitResult.SKIP_SUBTREE;
                }
                Files.createDirectories(to.resolve(from.relativize(dir).toString()));
                return FileVisitResult.CONTINUE;
            }

            @Override
            public FileVisitResult visitFile(Path file, BasicFileAttributes attributes) throws IOException {
                if (!file.getFileName().toString().equals(".git")) { // a file in a linked checkout
                    Files.copy(file, to.resolve(from.relativize(file).toString()));
                }
                return FileVisitResult.CONTINUE;
            }
        });
    }

    private static void build(Path sources) throws IOException, InterruptedException {
        boolean windows = System.getProperty("os.name").startsWith("Windows");
        Path maven = Path.of(System.getProperty("maven.home"), "bin", windows ? "mvn.cmd" : "mvn");
        ProcessBuilder builder = new ProcessBuilder(
                        maven.toString(),
                        "-q",
                        "-B",
                        "-o",
                        "-Dlaunch",
                        "-DskipTests",
                        "-Dmaven.repo.local=" + System.getProperty("maven.repo.local"),
                        "-pl",
                        "cli",
                        "-am",
                        "package")
                .directory(sources.toFile())
                .redirectErrorStream(true);
        builder.environment()
                .put(
                        "MAVEN_OPTS",
                        "-Duser.timezone=Pacific/Kiritimati -Duser.language=tr -Duser.country=TR"
                                + " -Dfile.encoding=ISO-8859-9");
        Process process = builder.start();
        String said = new String(process.getInputStream().readAllBytes(), StandardCharsets.UTF_8);
        assertEquals(0, process.waitFor(), said);
    }

    /** The program and its libraries, by name; sources and Javadoc are not made by the second build. */
    private static TreeMap<String, Path> jars(Path target) throws IOException {
        TreeMap<String, Path> jars = new TreeMap<>();
        for (Path folder : List.of(target, target.resolve("lib"))) {
            try (Stream<Path> files = Files.list(folder)) {
                files.filter(f -> f.toString().endsWith(".jar"))
                        .filter(f -> !f.toString().endsWith("-sources.jar")
                                && !f.toString().endsWith("-javadoc.jar"))
                        .forEach(f -> jars.put(f.getFileName().toString(), f));
            }
        }
        return jars;
    }

    private static Set<String> entriesThatDiffer(Path first, Path second) throws IOException {
        try (ZipFile a = new ZipFile(first.toFile());
                ZipFile b = new ZipFile(second.toFile())) {
            Set<String> names = new TreeSet<>();
            Stream.concat(a.stream(), b.stream()).map(ZipEntry::getName).forEach(names::add);
            names.removeIf(name -> same(a, b, name));
            return names;
        }
    }

    private static boolean same(ZipFile a, ZipFile b, String name) {
        ZipEntry x = a.getEntry(name);
        ZipEntry y = b.getEntry(name);
        try {
            return x != null
                    && y != null
                    && x.getTime() == y.getTime()
                    && Arrays.equals(
                            a.getInputStream(x).readAllBytes(),
                            b.getInputStream(y).readAllBytes());
        } catch (IOException e) {
            throw new UncheckedIOException(e);
        }
    }
}
