package lumbrical.tabular;

import java.nio.charset.Charset;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.TreeMap;
import java.util.function.Predicate;

/** Keeps what a reader hands on. */
final class ReadRows implements TableSink {
    private final Predicate<List<String>> header;
    final Map<Integer, List<String>> rows = new TreeMap<>();
    final List<String> remarks = new ArrayList<>();
    final List<String> otherSheets = new ArrayList<>();
    final List<String> sheetsWithoutHeader = new ArrayList<>();
    final List<Double> shares = new ArrayList<>();

    ReadRows() {
        this(cells -> true);
    }

    ReadRows(Predicate<List<String>> header) {
        this.header = header;
    }

    static ReadRows of(Path file) {
        return of(new Input(file, Optional.empty()), Optional.empty());
    }

    static ReadRows of(Path file, Charset encoding) {
        return of(new Input(file, Optional.empty()), Optional.of(encoding));
    }

    static ReadRows of(Input input, Optional<Charset> encoding) {
        ReadRows read = new ReadRows();
        TableFile.read(input, encoding, read);
        return read;
    }

    @Override
    public void row(int number, List<String> cells) {
        if (rows.put(number, List.copyOf(cells)) != null) {
            throw new AssertionError("row " + number + " came twice");
        }
    }

    @Override
    public void at(double share) {
        shares.add(share);
    }

    @Override
    public void remark(Remark remark, int row, int column) {
        remarks.add(remark + " " + row + " " + column);
    }

    @Override
    public boolean isHeader(List<String> cells) {
        return header.test(cells);
    }

    @Override
    public void otherSheet(String name) {
        otherSheets.add(name);
    }

    @Override
    public void noSheetFits(List<String> names) {
        sheetsWithoutHeader.addAll(names);
    }
}
