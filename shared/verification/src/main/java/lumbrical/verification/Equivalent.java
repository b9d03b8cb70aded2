package lumbrical.verification;

import java.io.IOException;
import java.io.UncheckedIOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import org.apache.commons.csv.CSVFormat;
import org.apache.commons.csv.CSVParser;

/**
 * A changed fact that no vector can notice, because no score differs.
 *
 * @param definition instrument id
 * @param fact which, and how it was changed
 * @param reason why no score differs
 */
public record Equivalent(String definition, String fact, String reason) {
    private static final CSVFormat FORMAT =
            CSVFormat.RFC4180.builder().setHeader().setSkipHeaderRecord(true).get();

    /**
     * Those listed in {@code equivalents.csv} of {@code folder}; none if it has no such file.
     *
     * @throws UncheckedIOException if the file cannot be read
     */
    public static List<Equivalent> listed(Path folder) {
        Path file = folder.resolve("equivalents.csv");
        if (!Files.exists(file)) {
            return List.of();
        }
        try (CSVParser parser = CSVParser.parse(Files.readString(file, StandardCharsets.UTF_8), FORMAT)) {
            return parser.stream()
                    .map(row -> new Equivalent(row.get("definition"), row.get("fact"), row.get("reason")))
                    .filter(e -> !e.reason().isBlank())
                    .toList();
        } catch (IOException e) {
            throw new UncheckedIOException(e);
        }
    }
}
