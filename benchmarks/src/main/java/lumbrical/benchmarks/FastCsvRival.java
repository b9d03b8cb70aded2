package lumbrical.benchmarks;

import de.siegmar.fastcsv.reader.CsvReader;
import de.siegmar.fastcsv.reader.CsvRecord;
import de.siegmar.fastcsv.writer.CsvWriter;
import java.io.IOException;
import java.nio.file.Path;
import java.util.Iterator;
import java.util.List;

/** The plain loop again, over a faster reader and writer of CSV. */
final class FastCsvRival {
    private FastCsvRival() {}

    /** {@code FILE OUT}. */
    public static void main(String[] args) throws IOException {
        try (CsvReader<CsvRecord> reader = CsvReader.builder().ofCsvRecord(Path.of(args[0]));
                CsvWriter writer = CsvWriter.builder().build(Path.of(args[1]))) {
            writer.writeRecord(PlainScore.COLUMNS);
            Iterator<CsvRecord> rows = reader.iterator();
            // Looked up once: by name this reader goes through the headings anew for every cell.
            List<String> headings = rows.next().getFields();
            int patient = headings.indexOf("patient");
            int side = headings.indexOf("side");
            int completedOn = headings.indexOf("completed_on");
            int[] items = new int[PlainScore.ITEMS];
            for (int i = 0; i < items.length; i++) {
                items[i] = headings.indexOf(PlainScore.ITEM + (i + 1));
            }
            while (rows.hasNext()) {
                CsvRecord row = rows.next();
                double sum = 0;
                int n = 0;
                for (int item : items) {
                    String cell = row.getField(item);
                    if (!cell.isEmpty()) {
                        sum += Integer.parseInt(cell);
                        n++;
                    }
                }
                writer.writeRecord(new PlainScore(sum, n)
                        .row(row.getField(patient), row.getField(side), row.getField(completedOn)));
            }
        }
    }
}
