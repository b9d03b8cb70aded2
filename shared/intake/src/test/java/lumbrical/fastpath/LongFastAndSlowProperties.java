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

/** A long table gives the same by blocks of bytes and row by row, wherever the rows of a sitting stand and whatever they hold. */
class LongFastAndSlowProperties {
    private static final String HEADER = "patient,completed_on,side,episode,instrument,item,remark,response,mode";

    private static void same(byte[] file) {
        FileRun slow = FileRun.of(file, 0);
        assertEquals(slow, FileRun.of(file, 1));
        assertEquals(slow, FileRun.of(file, 2));
    }

    private static void same(String file) {
        same(file.getBytes(StandardCharsets.UTF_8));
    }

    /** Mostly what tables hold, so that sittings fill up, items come again and both ways meet in one sitting. */
    private static Arbitrary<List<String>> plainRow() {
        Arbitrary<List<String>> what = Arbitraries.of(
                List.of("quickdash", "1"),
                List.of("quickdash", "2"),
                List.of("quickdash", "quickdash_3"),
                List.of("QuickDASH", "4"),
                List.of("quickdash", "11"),
                List.of("nprs", "rest"),
                List.of("nprs", "Worst"),
                List.of("grc", "1"),
                List.of("mhq", "pain_1_right"),
                List.of("mhq", "pain_1_left"),
                List.of("quickdash", "work_1"),
                List.of("promispf4a", "1"));
        return Combinators.combine(
                        Arbitraries.of("P1", "P2", "007"),
                        Arbitraries.frequency(
                                Tuple.of(9, "2026-01-02"), Tuple.of(9, "2026-01-03"), Tuple.of(1, "2026-01-02T10:00")),
                        Arbitraries.of("right", "left", "both", "", "r"),
                        Arbitraries.of("", "E1"),
                        what,
                        Arbitraries.of("1", "2", "3", "4", "5", "0", "05", ""))
                .as((p, d, s, e, w, r) -> List.of(p, d, s, e, w.get(0), w.get(1), "", r, "paper"));
    }

    private static Arbitrary<List<String>> oddRow() {
        Arbitrary<List<String>> plain = plainRow();
        Arbitrary<Integer> where = Arbitraries.integers().between(0, 8);
        Arbitrary<String> cell = Arbitraries.of(
                "",
                " P1",
                "P1 ",
                "\"P1\t\"",
                "\u00d6",
                "=P",
                "'=P",
                "'-1",
                "#N/A",
                "\"Q,1\"",
                "\"a\nb\"",
                "\"a\"\"b\"",
                "\"1\" ",
                "\"4",
                "\"",
                "\r",
                "\t2",
                "2026-01-02T10:00",
                "02.01.2026",
                "2026-02-30",
                "2027-01-01",
                "1899-12-31",
                "2026-1-2",
                "upper",
                "R",
                "npsr",
                "best",
                "quickdash",
                "grc",
                "3.0",
                "99",
                "-7",
                "2,3",
                "2;3",
                "\u00a03",
                "\uff13",
                "\u007f");
        return Combinators.combine(plain, where, cell).as((row, at, text) -> {
            List<String> changed = new ArrayList<>(row);
            changed.set(at, text);
            return changed;
        });
    }

    private static Arbitrary<String> row(char delimiter) {
        Arbitrary<List<String>> cells = Arbitraries.frequencyOf(Tuple.of(6, plainRow()), Tuple.of(2, oddRow()));
        Arbitrary<Integer> length = Arbitraries.frequencyOf(
                Tuple.of(9, Arbitraries.just(9)),
                Tuple.of(1, Arbitraries.integers().between(0, 12)));
        Arbitrary<Integer> quotes = Arbitraries.frequencyOf(
                Tuple.of(4, Arbitraries.just(0)),
                Tuple.of(1, Arbitraries.integers().between(0, 511)));
        Arbitrary<String> end = Arbitraries.frequency(Tuple.of(9, "\n"), Tuple.of(3, "\r\n"), Tuple.of(1, "\r"));
        return Combinators.combine(cells, length, quotes, end).as((row, n, which, e) -> {
            List<String> written = new ArrayList<>();
            for (int i = 0; i < n; i++) {
                String cell = i < row.size() ? row.get(i) : "";
                written.add((which >> i & 1) == 0 ? cell : '"' + cell + '"');
            }
            return String.join(String.valueOf(delimiter), written) + e;
        });
    }

    @Provide
    Arbitrary<String> files() {
        return Arbitraries.of(',', ';', '\t').flatMap(delimiter -> row(delimiter)
                .list()
                .ofMaxSize(40)
                .map(rows -> HEADER.replace(',', delimiter) + "\n" + String.join("", rows)));
    }

    @Property(tries = 600)
    void theSameOnRandomFiles(@ForAll("files") String file) {
        same(file);
    }

    @Property(tries = 200)
    void theSameWhereAFileIsCutOff(@ForAll("files") String file, @ForAll @IntRange(min = 1, max = 40) int lost) {
        same(file.substring(0, Math.max(HEADER.length() + 1, file.length() - lost)));
    }

    @Property(tries = 200)
    void theSameOnRandomBytes(@ForAll("files") String file, @ForAll("bytes") byte[] tail) {
        byte[] head = file.getBytes(StandardCharsets.UTF_8);
        byte[] all = new byte[head.length + tail.length];
        System.arraycopy(head, 0, all, 0, head.length);
        System.arraycopy(tail, 0, all, head.length, tail.length);
        same(all);
    }

    @Provide
    Arbitrary<byte[]> bytes() {
        return Arbitraries.bytes().array(byte[].class).ofMaxSize(100);
    }

    /** Columns in another order, some missing, some that mean nothing, and responses of a wide table beside them. */
    @Test
    void theSameWithOtherColumns() {
        for (String header : List.of(
                "response,item,instrument,completed_on,patient",
                "item,patient,response,completed_on,instrument,nprs_rest",
                "item,patient,response,completed_on,instrument,quickdash_total,nprs_rest",
                "\"item\",patient,response,completed_on,\"instrument\",side,language,respondent",
                "item,patient,response,completed_on,instrument,,")) {
            StringBuilder rows = new StringBuilder();
            for (int i = 0; i < 30; i++) {
                for (String column : header.replace("\"", "").split(",", -1)) {
                    rows.append(
                                    switch (column) {
                                        case "patient" -> "P" + i % 4;
                                        case "completed_on" -> "2026-01-0" + (1 + i % 3);
                                        case "side" -> i % 2 == 0 ? "left" : "";
                                        case "instrument" -> i % 7 == 0 ? "NPRS" : "quickdash";
                                        case "item" -> i % 7 == 0 ? "rest" : Integer.toString(1 + i % 11);
                                        case "response" -> Integer.toString(i % 6);
                                        default -> i % 5 == 0 ? "3" : "";
                                    })
                            .append(',');
                }
                rows.setLength(rows.length() - 1);
                rows.append('\n');
            }
            same(header + "\n" + rows);
        }
    }

    /** Scattered rows, doubles, blank lines, refused responses, umlauts and unknown items over several blocks. */
    @Test
    void theSameAcrossManyBlocks() throws IOException {
        Path demo = Path.of("..", "..", "shared", "demo", "responses-long.csv");
        assertEquals(FileRun.of(demo, 0), FileRun.of(demo, 2));
        StringBuilder large = new StringBuilder(HEADER).append('\n');
        for (int i = 0; i < 30_000; i++) {
            String row = "P" + i / 11 % 1_500 + (i % 997 == 0 ? "\u00e4" : "") + ",2026-01-02,right,,quickdash,"
                    + (i % 1_009 == 0 ? "x" : 1 + i % 11) + ",t," + (i % 131 == 0 ? 9 : i % 13 == 0 ? "" : 1 + i % 5)
                    + ",paper";
            large.append(row).append(i % 501 == 0 ? "\n\n" : "\n");
        }
        same(large.toString());
        large.setCharAt(large.length() - 2, '"'); // the rest from here on goes to the other reader
        same(large.toString());
    }

    @Test
    void theSameWhereARowIsLong() {
        String row = "P1,2026-01-02,right,,quickdash,1," + "t".repeat(30_000) + ",3,paper\n";
        for (String file : List.of(
                row.repeat(12),
                row + row.replace("t", "tt") + row,
                row + "P2,2026-01-02,right,,quickdash,1,t,3,paper" + ",".repeat(300_000) + "\n" + row,
                row + "P2,2026-01-02,right,,quickdash,1,t,3,paper" + ",".repeat(20_000) + "\n" + row,
                row + row.replaceFirst("t{30000}", "t".repeat(4_100_000)) + row)) {
            same(HEADER + "\n" + file);
        }
    }

    /** Items that one sitting is given again and again, those of two instruments by turns: each time is a form of its own. */
    @Test
    void anItemGivenAgainAndAgainIsAFormEachTime() {
        StringBuilder file = new StringBuilder("patient,completed_on,side,instrument,item,response\r\n");
        for (int i = 0; i < 100; i++) {
            file.append("P1,2026-01-02,right,quickdash,1,").append(1 + i % 5).append("\r\n");
            if (i % 2 == 0) {
                file.append("P1,2026-01-02,right,nprs,rest,").append(i % 11).append("\r\n");
            }
            if (i > 60) {
                file.append("P1,2026-01-02,right,quickdash,2,1\r\n");
            }
        }
        same(file.toString());
        FileRun run = FileRun.of(file.toString().getBytes(StandardCharsets.UTF_8), 2);
        assertEquals(
                100, run.out().lines().filter(l -> l.contains(",quickdash,")).count());
        assertEquals(50, run.out().lines().filter(l -> l.contains(",nprs,")).count());
        assertEquals(
                99 + 49,
                run.problems().stream()
                        .filter(p -> p.contains("Both are scored"))
                        .count());
    }
}
