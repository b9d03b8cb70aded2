package lumbrical.tabular;

import static org.junit.jupiter.api.Assertions.assertEquals;

import java.io.IOException;
import java.io.StringReader;
import java.io.UncheckedIOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.stream.Collectors;
import java.util.stream.IntStream;
import lumbrical.output.CsvTableWriter;
import lumbrical.output.OutputColumn;
import lumbrical.output.OutputTable;
import lumbrical.output.Value;
import net.jqwik.api.Arbitraries;
import net.jqwik.api.Arbitrary;
import net.jqwik.api.ForAll;
import net.jqwik.api.Property;
import net.jqwik.api.Provide;
import org.apache.commons.csv.CSVFormat;
import org.apache.commons.csv.CSVParser;
import org.apache.commons.csv.CSVRecord;

/** What we write, a general-purpose library reads back; what it writes, we read; and we read our own. */
class CsvRoundTripProperties {
    private static final int COLUMNS = 3;
    private static final OutputTable<List<String>> TABLE = new OutputTable<>(
            "Any",
            IntStream.range(0, COLUMNS)
                    .mapToObj(i -> OutputColumn.<List<String>>text("c" + i, "any text", r -> Value.text(r.get(i))))
                    .toList());

    @Provide
    static Arbitrary<List<List<String>>> tables() {
        Arbitrary<String> cell = Arbitraries.strings()
                .withChars(',', ';', '\t', '"', '\'', '\n', '\r', ' ', '=', '+', '-', '@', 'a', '1', '\u00E4', '\u20AC')
                .ofMaxLength(8);
        return cell.list().ofSize(COLUMNS).list().ofMaxSize(6);
    }

    private static String write(List<List<String>> rows, boolean guard) {
        StringBuilder text = new StringBuilder();
        CsvTableWriter<List<String>> csv = new CsvTableWriter<>(TABLE, text, guard);
        rows.forEach(csv::write);
        csv.flush();
        return text.toString();
    }

    private static List<List<String>> ours(String text) {
        try {
            Path file = Files.createTempFile("round", ".csv");
            try {
                Files.writeString(file, text);
                return new ArrayList<>(ReadRows.of(file).rows.values());
            } finally {
                Files.delete(file);
            }
        } catch (IOException e) {
            throw new UncheckedIOException(e);
        }
    }

    private static List<List<String>> withHeader(List<List<String>> rows) {
        List<List<String>> all = new ArrayList<>(List.of(List.of("c0", "c1", "c2")));
        all.addAll(rows);
        return all;
    }

    @Property(tries = 300)
    void aStrictReaderOfTheStandardReadsWhatWeWrite(@ForAll("tables") List<List<String>> rows) throws IOException {
        List<List<String>> read = new ArrayList<>();
        try (CSVParser parser = CSVParser.builder()
                .setReader(new StringReader(write(rows, false)))
                .setFormat(
                        CSVFormat.RFC4180.builder().setIgnoreEmptyLines(false).get())
                .get()) {
            for (CSVRecord row : parser) {
                read.add(row.toList());
            }
        }
        assertEquals(withHeader(rows), read);
    }

    @Property(tries = 300)
    void weReadWhatAStrictWriterOfTheStandardWrites(@ForAll("tables") List<List<String>> rows) {
        String text = withHeader(rows).stream()
                .map(row -> CSVFormat.RFC4180.format(row.toArray()) + "\r\n")
                .collect(Collectors.joining());
        assertEquals(withHeader(rows), ours(text));
    }

    /** The guard's apostrophe goes when the text is read, so that an id such as -5 is the same in both files. */
    @Property(tries = 300)
    void whatIsGuardedIsReadAsItWas(@ForAll("tables") List<List<String>> rows) {
        List<List<String>> cleaned =
                rows.stream().map(r -> r.stream().map(Cells::clean).toList()).toList();
        List<List<String>> read = ours(write(cleaned, true)).stream()
                .map(r -> r.stream().map(Cells::clean).toList())
                .toList();
        List<List<String>> expected = cleaned.stream()
                .map(r -> r.stream()
                        // a text that itself starts so is not told apart from a guarded one: section 1 of the formats
                        .map(c -> c.matches("(?s)'[=+\\-@\t\r].*") ? c.substring(1) : c)
                        .toList())
                .toList();
        assertEquals(withHeader(expected), read);
    }
}
