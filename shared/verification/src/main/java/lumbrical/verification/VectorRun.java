package lumbrical.verification;

import java.io.IOException;
import java.io.UncheckedIOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.TreeMap;
import java.util.stream.Stream;
import lumbrical.catalogue.Catalogue;
import lumbrical.instrument.Instrument;
import org.apache.commons.csv.CSVFormat;
import org.apache.commons.csv.CSVParser;
import org.apache.commons.csv.CSVRecord;

/** Reads {@code vectors/<instrument>/*.csv} and {@code arithmetic.csv} and holds the program to them. */
public final class VectorRun {
    private static final Set<String> TAGS = Set.of("published", "second-hand", "derived", "from-memory", "invented");

    private final Catalogue catalogue;
    private final Map<String, Counts> counts = new TreeMap<>();
    private final List<String> failures = new ArrayList<>();

    private static final class Counts {
        private int rows;
        private int passed;
        private final Map<String, Integer> byTag = new TreeMap<>();
    }

    private VectorRun(Catalogue catalogue) {
        this.catalogue = catalogue;
    }

    /**
     * Runs every vector below {@code folder}, the installation's {@code test-vectors}.
     *
     * @throws UncheckedIOException if the folder cannot be read
     */
    public static VectorReport run(Path folder, Catalogue catalogue) {
        VectorRun run = new VectorRun(catalogue);
        for (Path file : csvFiles(folder.resolve("vectors"))) {
            run.instrumentFile(file);
        }
        Path arithmetic = folder.resolve("arithmetic.csv");
        if (Files.exists(arithmetic)) {
            run.arithmeticFile(arithmetic);
        }
        List<VectorReport.PerInstrument> instruments = new ArrayList<>();
        run.counts.forEach((id, c) ->
                instruments.add(new VectorReport.PerInstrument(id, c.rows, c.passed, new TreeMap<>(c.byTag))));
        return new VectorReport(instruments, run.failures);
    }

    private static List<Path> csvFiles(Path folder) {
        try (Stream<Path> files = Files.walk(folder, 2)) {
            return files.filter(f -> f.toString().endsWith(".csv")).sorted().toList();
        } catch (IOException e) {
            throw new UncheckedIOException(e);
        }
    }

    private void instrumentFile(Path file) {
        String id = String.valueOf(file.getParent().getFileName());
        Optional<Instrument> instrument = catalogue.find(id);
        if (instrument.isEmpty()) {
            failures.add(name(file) + ": the folder names no instrument.");
            return;
        }
        ScoringVector runner = new ScoringVector(instrument.get());
        rows(file, id, runner::check);
    }

    private void arithmeticFile(Path file) {
        rows(file, "arithmetic", ArithmeticVector::check);
    }

    private interface Check {
        /** What is wrong, or empty. */
        Optional<String> of(CSVRecord row);
    }

    private void rows(Path file, String id, Check check) {
        try {
            String text = Files.readString(file, StandardCharsets.UTF_8);
            if (!text.startsWith("# ")) {
                failures.add(name(file) + ": the first line must name the source, starting with '# '.");
                return;
            }
            String table = text.substring(text.indexOf('\n') + 1);
            CSVFormat format = CSVFormat.RFC4180
                    .builder()
                    .setHeader()
                    .setSkipHeaderRecord(true)
                    .get();
            try (CSVParser parser = CSVParser.parse(table, format)) {
                int before = failures.size();
                int n = 0;
                for (CSVRecord row : parser) {
                    n++;
                    row(file, id, check, row);
                }
                if (n == 0 && failures.size() == before) {
                    failures.add(name(file) + ": holds no rows.");
                }
            }
        } catch (IOException e) {
            throw new UncheckedIOException(e);
        } catch (IllegalArgumentException | IllegalStateException e) {
            failures.add(name(file) + ": " + e.getMessage());
        }
    }

    private void row(Path file, String id, Check check, CSVRecord row) {
        Counts c = counts.computeIfAbsent(id, i -> new Counts());
        c.rows++;
        String tag = row.get("tag");
        c.byTag.merge(tag, 1, Integer::sum);
        Optional<String> wrong = TAGS.contains(tag)
                ? check.of(row)
                : Optional.of("the tag '" + tag + "' is none of "
                        + TAGS.stream().sorted().toList());
        if (wrong.isPresent()) {
            failures.add(name(file) + " " + row.get("id") + ": " + wrong.get());
        } else {
            c.passed++;
        }
    }

    private static String name(Path file) {
        return file.getParent().getFileName() + "/" + file.getFileName();
    }
}
