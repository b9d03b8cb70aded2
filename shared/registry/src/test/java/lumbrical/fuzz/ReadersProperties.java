package lumbrical.fuzz;

import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.ByteArrayInputStream;
import java.io.ByteArrayOutputStream;
import java.io.IOException;
import java.io.UncheckedIOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.nio.file.StandardCopyOption;
import java.nio.file.attribute.PosixFilePermissions;
import java.time.LocalDate;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.Base64;
import java.util.Comparator;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Random;
import java.util.stream.Stream;
import java.util.zip.ZipEntry;
import java.util.zip.ZipInputStream;
import java.util.zip.ZipOutputStream;
import lumbrical.batch.BatchScorer;
import lumbrical.catalogue.Catalogue;
import lumbrical.catalogue.DefinitionFaultsException;
import lumbrical.deidentify.KeyFile;
import lumbrical.deidentify.ProfileReader;
import lumbrical.fhir.ExternalCodes;
import lumbrical.intake.CodeMap;
import lumbrical.intake.ColumnMap;
import lumbrical.intake.ColumnSuggestions;
import lumbrical.intake.EpisodeReader;
import lumbrical.intake.ReadOptions;
import lumbrical.intake.ScheduleReader;
import lumbrical.intake.ThresholdSelectionReader;
import lumbrical.registry.ManifestCheck;
import lumbrical.scoring.ScoringOptions;
import lumbrical.tabular.Input;
import lumbrical.tabular.UnreadableInputException;
import net.jqwik.api.ForAll;
import net.jqwik.api.Property;
import net.jqwik.api.ShrinkingMode;
import net.jqwik.api.lifecycle.AfterContainer;
import net.jqwik.api.lifecycle.BeforeContainer;

/**
 * Every reader is fed files spoilt byte by byte: whatever the file, it is read or refused with a message, and nothing else happens. The
 * corpus is the awkward files, the demo clinic, the definitions and whatever once got through ({@code src/test/resources/fuzz}).
 * {@code fuzz.rounds} multiplies the number of files; one in the normal build.
 */
class ReadersProperties {
    private static final int ROUNDS = Integer.getInteger("fuzz.rounds", 1);
    private static final Catalogue CATALOGUE = Catalogue.builtIn();
    private static final ReadOptions OPTIONS = ReadOptions.asOf(LocalDate.parse("2026-11-25"));
    private static final List<String> TOKENS = List.of(
            "\"",
            ",",
            ";",
            "\t",
            "\r",
            "\n",
            "\0",
            "\uFEFF",
            "'",
            "=",
            "-",
            "{",
            "}",
            "[",
            "]",
            ":",
            "null",
            "1e999",
            "-0",
            "9999999999999999999",
            "\u202E",
            "patient",
            "completed_on",
            "quickdash_1",
            "2026-01-01",
            "<",
            "&#0;",
            "]]>",
            "<!DOCTYPE a [<!ENTITY b SYSTEM \"file:///etc/hostname\">]>");

    private static Path folder = Path.of("");
    private static List<byte[]> tables = List.of();
    private static List<byte[]> workbooks = List.of();
    private static List<byte[]> documents = List.of();

    /** A reader of one file. */
    private interface Reader {
        void read(Path file) throws IOException;
    }

    private static final Map<String, Reader> OF_TABLES = Map.of(
            "responses",
                    file -> new BatchScorer(CATALOGUE, OPTIONS, new ScoringOptions(false, false), Map.of())
                            .score(List.of(input(file)), (row, forms) -> {}, problem -> {}),
            "episodes", file -> EpisodeReader.read(input(file), CATALOGUE, OPTIONS),
            "schedule", file -> ScheduleReader.read(input(file), CATALOGUE),
            "columns", file -> ColumnMap.read(input(file)),
            "codes", file -> CodeMap.read(input(file)),
            "thresholds", file -> ThresholdSelectionReader.read(input(file), CATALOGUE),
            "external codes", file -> ExternalCodes.read(input(file), CATALOGUE),
            "suggestions", file -> ColumnSuggestions.of(input(file), Optional.empty(), CATALOGUE));

    private static final Map<String, Reader> OF_DOCUMENTS = Map.of(
            "profile",
            file -> ProfileReader.read(input(file)),
            "key file",
            file -> KeyFile.open(file.toString(), folder.resolve("upload")),
            "definition",
            ReadersProperties::definition,
            "manifest",
            ReadersProperties::manifest);

    private static Input input(Path file) {
        return new Input(file, Optional.empty());
    }

    private static void definition(Path file) throws IOException {
        Path own = Files.createDirectories(folder.resolve("definitions"));
        Files.copy(file, own.resolve("mine.json"), StandardCopyOption.REPLACE_EXISTING);
        Catalogue.builtIn().with(own).find("mine");
    }

    private static void manifest(Path file) throws IOException {
        Path upload = Files.createDirectories(folder.resolve("upload"));
        Files.copy(file, upload.resolve("manifest.json"), StandardCopyOption.REPLACE_EXISTING);
        ManifestCheck.check(upload);
    }

    @BeforeContainer
    static void gather() throws IOException {
        folder = Files.createTempDirectory("readers");
        tables = new ArrayList<>(files(Path.of("..", "..", "cli", "src", "test", "resources", "awkward"), ".csv"));
        tables.addAll(files(Path.of("..", "demo"), ".csv"));
        tables.addAll(files(Path.of("..", "schedules"), ".csv"));
        tables.addAll(files(Path.of("src", "test", "resources", "fuzz"), ".csv"));
        documents = new ArrayList<>(files(Path.of("..", "..", "instruments", "definitions"), ".json"));
        documents.addAll(files(Path.of("..", "profiles"), ".json"));
        documents.addAll(files(Path.of("src", "test", "resources", "fuzz"), ".json"));
        workbooks = new ArrayList<>(files(Path.of("src", "test", "resources", "fuzz"), ".xlsx"));
        assertTrue(tables.size() > 60 && documents.size() > 25 && !workbooks.isEmpty());
    }

    @AfterContainer
    static void clean() throws IOException {
        try (Stream<Path> tree = Files.walk(folder)) {
            for (Path each : tree.sorted(Comparator.reverseOrder()).toList()) {
                Files.delete(each);
            }
        }
    }

    private static List<byte[]> files(Path in, String ending) throws IOException {
        try (Stream<Path> tree = Files.walk(in)) {
            return tree.filter(f -> f.toString().endsWith(ending))
                    .sorted()
                    .map(ReadersProperties::bytes)
                    .toList();
        }
    }

    private static byte[] bytes(Path file) {
        try {
            byte[] all = Files.readAllBytes(file);
            return all.length > 20_000 ? Arrays.copyOf(all, 20_000) : all;
        } catch (IOException e) {
            throw new UncheckedIOException(e);
        }
    }

    /** Reads or is refused; anything else is a fault of the reader, told with the bytes that showed it. */
    private static void feed(String name, Reader reader, byte[] content) throws IOException {
        Path file = Files.write(folder.resolve("file"), content);
        if (file.getFileSystem().supportedFileAttributeViews().contains("posix")) {
            Files.setPosixFilePermissions(file, PosixFilePermissions.fromString("rw-------"));
        }
        try {
            reader.read(file);
        } catch (UnreadableInputException | DefinitionFaultsException refused) {
            assertTrue(refused.getMessage().length() > 10, name);
        } catch (RuntimeException | StackOverflowError | OutOfMemoryError fault) {
            throw new AssertionError(name + " failed on " + Base64.getEncoder().encodeToString(content), fault);
        }
    }

    static byte[] spoilt(byte[] from, Random random) {
        byte[] bytes = from;
        for (int times = 1 + random.nextInt(4); times > 0; times--) {
            bytes = spoiltOnce(bytes, random);
        }
        return bytes;
    }

    private static byte[] spoiltOnce(byte[] from, Random random) {
        int at = from.length == 0 ? 0 : random.nextInt(from.length);
        int length = Math.min(from.length - at, 1 + random.nextInt(40));
        ByteArrayOutputStream out = new ByteArrayOutputStream();
        out.write(from, 0, at);
        switch (random.nextInt(6)) {
            case 0 -> out.write(random.nextInt(256)); // another byte more
            case 1 -> length = 0; // cut off here
            case 2 -> { // a piece twice
                out.write(from, at, length);
                out.write(from, at, length);
                out.write(from, at + length, from.length - at - length);
            }
            case 3 -> out.write(from, at + length, from.length - at - length); // a piece less
            case 4 -> { // something telling in between
                byte[] token = TOKENS.get(random.nextInt(TOKENS.size())).getBytes(StandardCharsets.UTF_8);
                out.write(token, 0, token.length);
                out.write(from, at, from.length - at);
            }
            default -> { // one byte otherwise
                if (at < from.length) {
                    out.write(from[at] ^ 1 << random.nextInt(8));
                    out.write(from, at + 1, from.length - at - 1);
                }
            }
        }
        return out.toByteArray();
    }

    @Property(tries = 120, shrinking = ShrinkingMode.OFF)
    void tablesAreReadOrRefused(@ForAll long seed) throws IOException {
        Random random = new Random(seed);
        for (int round = 0; round < ROUNDS; round++) {
            byte[] content = spoilt(tables.get(random.nextInt(tables.size())), random);
            for (Map.Entry<String, Reader> reader : OF_TABLES.entrySet()) {
                feed(reader.getKey(), reader.getValue(), content);
            }
        }
    }

    @Property(tries = 120, shrinking = ShrinkingMode.OFF)
    void documentsAreReadOrRefused(@ForAll long seed) throws IOException {
        Random random = new Random(seed);
        for (int round = 0; round < ROUNDS; round++) {
            byte[] content = spoilt(documents.get(random.nextInt(documents.size())), random);
            for (Map.Entry<String, Reader> reader : OF_DOCUMENTS.entrySet()) {
                feed(reader.getKey(), reader.getValue(), content);
            }
        }
    }

    @Property(tries = 60, shrinking = ShrinkingMode.OFF)
    void workbooksAreReadOrRefused(@ForAll long seed) throws IOException {
        Random random = new Random(seed);
        for (int round = 0; round < ROUNDS; round++) {
            byte[] whole = workbooks.get(random.nextInt(workbooks.size()));
            byte[] content = random.nextInt(4) == 0 ? spoilt(whole, random) : withASpoiltPart(whole, random);
            feed("responses", OF_TABLES.get("responses"), content);
            feed("episodes", OF_TABLES.get("episodes"), content);
        }
    }

    /** The workbook with one of its parts spoilt and packed again, so that the reader gets past the packing. */
    private static byte[] withASpoiltPart(byte[] workbook, Random random) throws IOException {
        ByteArrayOutputStream packed = new ByteArrayOutputStream();
        try (ZipInputStream in = new ZipInputStream(new ByteArrayInputStream(workbook));
                ZipOutputStream out = new ZipOutputStream(packed)) {
            for (ZipEntry entry = in.getNextEntry(); entry != null; entry = in.getNextEntry()) {
                byte[] part = in.readAllBytes();
                out.putNextEntry(new ZipEntry(entry.getName()));
                out.write(random.nextInt(3) == 0 ? spoilt(part, random) : part);
            }
        }
        return packed.toByteArray();
    }

    @Property(tries = 60, shrinking = ShrinkingMode.OFF)
    void anyBytesAreReadOrRefused(@ForAll byte[] content) throws IOException {
        for (Map<String, Reader> readers : List.of(OF_TABLES, OF_DOCUMENTS)) {
            for (Map.Entry<String, Reader> reader : readers.entrySet()) {
                feed(reader.getKey(), reader.getValue(), content);
            }
        }
    }
}
