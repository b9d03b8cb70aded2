package lumbrical.benchmarks;

import java.io.BufferedReader;
import java.io.BufferedWriter;
import java.io.IOException;
import java.io.InputStream;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.LinkedHashMap;
import java.util.Map;
import org.apache.commons.csv.CSVFormat;
import org.apache.commons.csv.CSVParser;
import org.apache.commons.csv.CSVPrinter;
import org.apache.commons.csv.CSVRecord;

/** What ours is held against on tables. Each is a process of its own, with no jar that it does not need. */
public final class TableRivals {
    private static final CSVFormat CSV =
            CSVFormat.RFC4180.builder().setHeader().setSkipHeaderRecord(true).get();

    private TableRivals() {}

    /** {@code parse FILE}, {@code loop FILE OUT}, {@code long FILE OUT}, {@code bytes FILE}. */
    public static void main(String[] args) throws IOException {
        switch (args[0]) {
            case "parse" -> parse(Path.of(args[1]));
            case "loop" -> loop(Path.of(args[1]), Path.of(args[2]));
            case "long" -> longLoop(Path.of(args[1]), Path.of(args[2]));
            default -> bytes(Path.of(args[1]));
        }
    }

    /** (a) Commons CSV parses and nothing is scored. */
    private static void parse(Path file) throws IOException {
        long cells = 0;
        try (BufferedReader in = Files.newBufferedReader(file);
                CSVParser parser = CSVParser.parse(in, CSV)) {
            for (CSVRecord row : parser) {
                cells += row.size();
            }
        }
        System.out.println(cells);
    }

    /** (b) What an engineer would write in an afternoon: the same 19 columns for complete and nearly complete forms. */
    private static void loop(Path file, Path out) throws IOException {
        try (BufferedReader in = Files.newBufferedReader(file);
                CSVParser parser = CSVParser.parse(in, CSV);
                BufferedWriter writer = Files.newBufferedWriter(out);
                CSVPrinter printer = new CSVPrinter(writer, CSVFormat.RFC4180)) {
            printer.printRecord(PlainScore.COLUMNS);
            for (CSVRecord row : parser) {
                double sum = 0;
                int n = 0;
                for (int i = 1; i <= PlainScore.ITEMS; i++) {
                    String cell = row.get(PlainScore.ITEM + i);
                    if (!cell.isEmpty()) {
                        sum += Integer.parseInt(cell);
                        n++;
                    }
                }
                printer.printRecord((Object[])
                        new PlainScore(sum, n).row(row.get("patient"), row.get("side"), row.get("completed_on")));
            }
        }
    }

    private record Sitting(String patient, String completedOn, String side) {}

    /** (b) The same for a table with a row for each response, which are gathered by sitting first: its rows need not stand together. */
    private static void longLoop(Path file, Path out) throws IOException {
        Map<Sitting, int[]> sittings = new LinkedHashMap<>();
        try (BufferedReader in = Files.newBufferedReader(file);
                CSVParser parser = CSVParser.parse(in, CSV)) {
            for (CSVRecord row : parser) {
                int[] responses = sittings.computeIfAbsent(
                        new Sitting(row.get("patient"), row.get("completed_on"), row.get("side")),
                        key -> new int[PlainScore.ITEMS]);
                String response = row.get("response");
                if (!response.isEmpty() && row.get("instrument").equals("quickdash")) {
                    responses[Integer.parseInt(row.get("item")) - 1] = Integer.parseInt(response);
                }
            }
        }
        try (BufferedWriter writer = Files.newBufferedWriter(out);
                CSVPrinter printer = new CSVPrinter(writer, CSVFormat.RFC4180)) {
            printer.printRecord(PlainScore.COLUMNS);
            for (Map.Entry<Sitting, int[]> entry : sittings.entrySet()) {
                double sum = 0;
                int n = 0;
                for (int response : entry.getValue()) {
                    sum += response; // 0 where there is none
                    n += response > 0 ? 1 : 0;
                }
                Sitting sitting = entry.getKey();
                printer.printRecord((Object[])
                        new PlainScore(sum, n).row(sitting.patient(), sitting.side(), sitting.completedOn()));
            }
        }
    }

    /** (c) The floor: read the bytes and sum them. */
    private static void bytes(Path file) throws IOException {
        long sum = 0;
        byte[] block = new byte[1 << 16];
        try (InputStream in = Files.newInputStream(file)) {
            for (int n = in.read(block); n >= 0; n = in.read(block)) {
                for (int i = 0; i < n; i++) {
                    sum += block[i];
                }
            }
        }
        System.out.println(sum);
    }
}
