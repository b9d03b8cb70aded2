package lumbrical.verification;

import java.io.IOException;
import java.io.UncheckedIOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.stream.Stream;
import lumbrical.catalogue.DefinitionMutants;
import lumbrical.instrument.Instrument;
import org.apache.commons.csv.CSVFormat;
import org.apache.commons.csv.CSVParser;
import org.apache.commons.csv.CSVRecord;

/** Which vectors hold which fact of a definition: the fact is changed by one, and some vector should turn red. */
public final class FactProof {
    private static final CSVFormat FORMAT =
            CSVFormat.RFC4180.builder().setHeader().setSkipHeaderRecord(true).get();

    /**
     * A fact, changed.
     *
     * @param definition instrument id
     * @param fact which, and how it was changed
     * @param refused whether the reader of definitions refuses the change, so that no vector need notice it
     * @param red the vectors that turn red, as {@code file id}; none if nothing holds the fact
     */
    public record Fact(String definition, String fact, boolean refused, List<String> red) {
        /** Copies the list. */
        public Fact {
            red = List.copyOf(red);
        }

        /** Whether something notices the change. */
        public boolean held() {
            return refused || !red.isEmpty();
        }
    }

    private FactProof() {}

    /** Every fact of a shipped definition with the vectors of {@code folder} that hold it. */
    public static List<Fact> of(Path folder, String id) {
        return of(folder, id, Integer.MAX_VALUE);
    }

    /** As {@link #of(Path, String)}, but looks no further once {@code enough} vectors have turned red. */
    static List<Fact> of(Path folder, String id, int enough) {
        Map<String, List<CSVRecord>> vectors = vectors(folder.resolve("vectors").resolve(id));
        return DefinitionMutants.ofBuiltIn(id).stream()
                .map(mutant -> new Fact(
                        id,
                        mutant.fact(),
                        mutant.instrument().isEmpty(),
                        mutant.instrument().map(i -> red(i, vectors, enough)).orElse(List.of())))
                .toList();
    }

    private static List<String> red(Instrument instrument, Map<String, List<CSVRecord>> vectors, int enough) {
        ScoringVector vector = new ScoringVector(instrument);
        List<String> red = new ArrayList<>();
        for (Map.Entry<String, List<CSVRecord>> file : vectors.entrySet()) {
            for (CSVRecord row : file.getValue()) {
                if (red.size() >= enough) {
                    return red;
                }
                if (wrong(vector, row).isPresent()) {
                    red.add(file.getKey() + " " + row.get("id"));
                }
            }
        }
        return red;
    }

    /** A vector that no longer fits the definition is red too. */
    private static Optional<String> wrong(ScoringVector vector, CSVRecord row) {
        try {
            return vector.check(row);
        } catch (IllegalArgumentException e) {
            return Optional.of(String.valueOf(e.getMessage()));
        }
    }

    private static Map<String, List<CSVRecord>> vectors(Path folder) {
        Map<String, List<CSVRecord>> vectors = new LinkedHashMap<>();
        if (Files.isDirectory(folder)) {
            try (Stream<Path> files = Files.list(folder)) {
                for (Path file : files.filter(f -> f.toString().endsWith(".csv"))
                        .sorted()
                        .toList()) {
                    vectors.put(String.valueOf(file.getFileName()), rows(file));
                }
            } catch (IOException e) {
                throw new UncheckedIOException(e);
            }
        }
        return vectors;
    }

    private static List<CSVRecord> rows(Path file) throws IOException {
        String text = Files.readString(file, StandardCharsets.UTF_8);
        try (CSVParser parser = CSVParser.parse(text.substring(text.indexOf('\n') + 1), FORMAT)) {
            return parser.getRecords();
        }
    }
}
