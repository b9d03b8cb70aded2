package lumbrical.fastpath;

import static org.junit.jupiter.api.Assertions.assertEquals;

import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import net.jqwik.api.Arbitraries;
import net.jqwik.api.Arbitrary;
import net.jqwik.api.Combinators;
import net.jqwik.api.ForAll;
import net.jqwik.api.Property;
import net.jqwik.api.Provide;
import net.jqwik.api.Tuple;
import net.jqwik.api.constraints.IntRange;
import org.junit.jupiter.api.Test;

/** The way by blocks of bytes and the way row by row give the same bytes, problems and counts, whatever the file holds. */
class FastAndSlowProperties {
    private static final String HEADER =
            "patient,completed_on,side,episode,remark,quickdash_1,quickdash_2,quickdash_3,quickdash_4,quickdash_5,"
                    + "quickdash_6,quickdash_7,quickdash_8,quickdash_9,quickdash_10,quickdash_11,nprs_rest,grc_1,"
                    + "promispf4a_1,promispf4a_2,promispf4a_3,promispf4a_4,mhq_pain_1_right,mhq_pain_1_left";

    @Provide
    Arbitrary<String> cells() {
        return Arbitraries.frequencyOf(
                Tuple.of(30, Arbitraries.integers().between(0, 6).map(String::valueOf)),
                Tuple.of(6, Arbitraries.just("")),
                Tuple.of(
                        2,
                        Arbitraries.of(
                                "3.0",
                                " 4 ",
                                "x",
                                "2,3",
                                "\"5\"",
                                "\"a\nb\"",
                                "\"a,b\"",
                                "\"a\"\"b\"",
                                "\"5\" ",
                                "\"5\"4",
                                "\"4",
                                "-7",
                                "'-7",
                                "=1+1",
                                "99",
                                "\u00e4",
                                "+3",
                                "'",
                                "\"",
                                "\r",
                                "\t2",
                                "\u00a03",
                                "\uff13",
                                "3.",
                                "\u007f",
                                "12",
                                "1;2",
                                "a|b",
                                ":",
                                "/")));
    }

    @Provide
    Arbitrary<String> rows() {
        Arbitrary<String> patient =
                Arbitraries.of("P1", "P2", "007", "=P", "", " P3", "\u00d6", "\"Q,1\"", "P4 ", "P\u007f5", "P6~");
        Arbitrary<String> date = Arbitraries.of(
                "2026-01-02",
                "2026-02-29",
                "2024-02-29",
                "2027-01-01",
                "",
                "02.01.2026",
                "2026-01-02T10:00",
                "2026-1-2",
                "1899-12-31",
                "2026-01-02 ");
        Arbitrary<String> side = Arbitraries.of("right", "left", "both", "", "R", "l", "upper", "b");
        Arbitrary<List<String>> rest = cells().list().ofMinSize(0).ofMaxSize(22);
        Arbitrary<String> end = Arbitraries.frequency(Tuple.of(9, "\n"), Tuple.of(3, "\r\n"), Tuple.of(1, "\r"));
        return Combinators.combine(patient, date, side, rest, quotes(), end).as((p, d, s, r, q, e) -> {
            List<String> row = new ArrayList<>(List.of(p, d, s));
            row.addAll(r);
            return quoted(row, q) + e;
        });
    }

    /** Which cells of a row stand in quotes: mostly none, some, or all. */
    private static Arbitrary<Long> quotes() {
        return Arbitraries.frequencyOf(
                Tuple.of(3, Arbitraries.just(0L)),
                Tuple.of(2, Arbitraries.longs().between(1, (1L << 26) - 1)),
                Tuple.of(2, Arbitraries.just(-1L)));
    }

    private static String quoted(List<String> cells, long which) {
        List<String> row = new ArrayList<>();
        for (int i = 0; i < cells.size(); i++) {
            row.add((which >> i & 1) == 0 ? cells.get(i) : '"' + cells.get(i) + '"');
        }
        return String.join(",", row);
    }

    @Property(tries = 400)
    void theSameOnRandomFiles(@ForAll("files") String file) {
        byte[] bytes = file.getBytes(StandardCharsets.UTF_8);
        FileRun slow = FileRun.of(bytes, 0);
        assertEquals(slow, FileRun.of(bytes, 1));
        assertEquals(slow, FileRun.of(bytes, 2));
    }

    @Provide
    Arbitrary<String> files() {
        Arbitrary<String> plainEnd = Arbitraries.of("\n", "\r\n");
        Arbitrary<String> header = quotes().map(q -> quoted(List.of(HEADER.split(",")), q));
        return Combinators.combine(header, plainEnd, rows().list().ofMaxSize(30))
                .as((h, e, r) -> h + e + String.join("", r));
    }

    /** A file that lost its end, in the middle of a row or with its last line break. */
    @Property(tries = 200)
    void theSameWhereAFileIsCutOff(@ForAll("files") String file, @ForAll @IntRange(min = 1, max = 40) int lost) {
        byte[] bytes = file.substring(0, Math.max(HEADER.length() + 1, file.length() - lost))
                .getBytes(StandardCharsets.UTF_8);
        FileRun slow = FileRun.of(bytes, 0);
        assertEquals(slow, FileRun.of(bytes, 1));
        assertEquals(slow, FileRun.of(bytes, 2));
    }

    /** Whole, short and cut rows in both ways: which of them are told, worked out by hand. */
    @Test
    void rowsWithoutACellForAResponseAreTold() {
        String header = "patient,completed_on,nprs_rest,side,nprs_activity,remark\n";
        String rows = "P1,2026-01-02,3,left,4\nP2,2026-01-02,3,left\nP3,2026-01-02,x\n,,,\nP4,2026-01-02,3";
        String whole =
                "The row ends before this column: it has %d cells and the header 6 columns. What it lacks counts as not"
                        + " answered. ";
        String again = "If anything stood there, export the file again.";
        String cut =
                "The file ends here without a line break, so it may be cut off: compare it with where it comes from, and"
                        + " export it again.";
        for (int threads = 0; threads < 3; threads++) {
            List<String> told =
                    FileRun.of((header + rows).getBytes(StandardCharsets.UTF_8), threads).problems().stream()
                            .filter(p -> p.contains("The row ends"))
                            .toList();
            assertEquals(
                    List.of(
                            "OptionalInt[3] Optional[nprs_activity] " + whole.formatted(4) + again,
                            "OptionalInt[4] Optional[nprs_activity] " + whole.formatted(3) + again,
                            "OptionalInt[6] Optional[nprs_activity] " + whole.formatted(3) + cut),
                    told);
        }
    }

    /** The last cell of a row is the date, or what is left of it where the file ends. */
    @Property(tries = 400)
    void theSameWithTheDateLast(
            @ForAll("dated") List<String> rows,
            @ForAll("delimiters") char delimiter,
            @ForAll @IntRange(max = 12) int lost) {
        String header = "nprs_rest,quickdash_2,remark,patient,side,completed_on";
        String file = (header + "\n" + String.join("\n", rows))
                .replace(',', delimiter)
                .replace('#', ',');
        byte[] bytes = file.substring(0, Math.max(header.length() + 1, file.length() - lost))
                .getBytes(StandardCharsets.UTF_8);
        assertEquals(FileRun.of(bytes, 0), FileRun.of(bytes, 2));
    }

    /** {@code #} = a comma that stands in a cell where something else parts the cells. */
    @Provide
    Arbitrary<List<String>> dated() {
        Arbitrary<String> code = Arbitraries.of("1", "5", "", "6", "10", "x", ":", "/");
        Arbitrary<String> remark = Arbitraries.of("", "better", "1|2;3", "a\u007fb", "~");
        Arbitrary<String> date = Arbitraries.of(
                "2026-01-02",
                "2026-01-0",
                "2026-01-021",
                "\"2026-01-02\"",
                "\"2026-01-021",
                "2026-02-30",
                "202x-01-02",
                "2026/01-02",
                "2026-01/02",
                "",
                "1,2026-01-");
        return Combinators.combine(
                        code,
                        code,
                        remark,
                        Arbitraries.of("P1", "P-2", "", "P\u007f", "P#3", "\"P#4\"", "\"P5\t\""),
                        date)
                .as((a, b, r, p, d) -> String.join(",", a, b, r, p, "left", d))
                .list()
                .ofMaxSize(6);
    }

    @Provide
    Arbitrary<Character> delimiters() {
        return Arbitraries.of(',', ';', '\t');
    }

    @Property(tries = 200)
    void theSameOnRandomBytes(@ForAll("bytes") byte[] tail) {
        byte[] head = (HEADER + "\n").getBytes(StandardCharsets.UTF_8);
        byte[] file = new byte[head.length + tail.length];
        System.arraycopy(head, 0, file, 0, head.length);
        System.arraycopy(tail, 0, file, head.length, tail.length);
        assertEquals(FileRun.of(file, 0), FileRun.of(file, 2));
    }

    @Provide
    Arbitrary<byte[]> bytes() {
        return Arbitraries.bytes().array(byte[].class).ofMaxSize(200);
    }

    @Test
    void theSameAcrossManyBlocksOfTheDemoAndOfManyInstruments() throws IOException {
        for (Path file : List.of(
                Path.of("..", "..", "shared", "demo", "responses.csv"),
                Path.of("..", "..", "shared", "demo", "responses-with-mistakes.csv"),
                Path.of("..", "..", "test-vectors", "independent", "random-sittings.csv"))) {
            FileRun slow = FileRun.of(file, 0);
            assertEquals(slow, FileRun.of(file, 1));
            assertEquals(slow, FileRun.of(file, 2));
        }
        StringBuilder large = new StringBuilder(HEADER).append('\n');
        for (int i = 0; i < 20_000; i++) {
            large.append("P").append(i % 9_000).append(",2026-01-02,right,,").append(i % 97 == 0 ? "\u00e4" : "t");
            for (int k = 0; k < 11; k++) {
                large.append(',').append(i % (k + 3) == 0 ? "" : i % 131 == 0 ? 9 : 1 + (i + k) % 5);
            }
            large.append(i % 501 == 0 ? "\n\n" : "\n"); // blank lines and refused responses, for the numbers of rows
        }
        byte[] bytes = large.toString().getBytes(StandardCharsets.UTF_8);
        FileRun slow = FileRun.of(bytes, 0);
        assertEquals(slow, FileRun.of(bytes, 1));
        assertEquals(slow, FileRun.of(bytes, 2));
        bytes[bytes.length - 2] = '"'; // the rest from here on goes to the other reader
        assertEquals(FileRun.of(bytes, 0), FileRun.of(bytes, 2));
    }

    /** Rows of 64 bytes fill a block of a power of two to its last byte; what stands there is short of a date. */
    @Test
    void theSameWhereABlockIsFull() {
        String header = "quickdash_1,remark,patient,completed_on\n";
        String row = "3," + "t".repeat(49) + ",P1234567,26\n";
        assertEquals(64, row.length());
        byte[] bytes = (header + row.repeat(5_000)).getBytes(StandardCharsets.UTF_8);
        assertEquals(FileRun.of(bytes, 0), FileRun.of(bytes, 2));
    }

    @Test
    void theSameWhereARowIsLong() {
        String row = "P1,2026-01-02,right,," + "t".repeat(30_000) + ",1,2,3,4,5,1,2,3,4,5,1\n";
        String wide = "P2,2026-01-02,right,,t,1,2,3,4,5,1,2,3,4,5,1" + ",".repeat(300_000) + "\n";
        String long40 = row.replace("t", "tt");
        for (String file : List.of(
                row.repeat(12),
                row + long40 + row,
                row.repeat(12) + long40.replace("2026-01-02", "2026-01-32") + row,
                row + wide + row,
                row + wide.substring(0, 20_000) + "\n" + row,
                wide,
                row + wide + "\"",
                row + "P3,2026-01-02,right,," + "t".repeat(4_100_000) + "\n" + row)) {
            byte[] bytes = (HEADER + "\n" + file).getBytes(StandardCharsets.UTF_8);
            FileRun slow = FileRun.of(bytes, 0);
            assertEquals(slow, FileRun.of(bytes, 1));
            assertEquals(slow, FileRun.of(bytes, 2));
        }
    }
}
