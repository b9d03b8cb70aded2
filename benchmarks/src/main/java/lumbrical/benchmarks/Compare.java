package lumbrical.benchmarks;

import java.io.File;
import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.HashSet;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Set;

/** Runs commands as cold processes in turn and prints medians, spread, ratios and peak memory. */
public final class Compare {
    private final Path folder;
    private final String launcher;
    private final Jars jars;
    private final int runs;
    private final Set<String> outputs = new HashSet<>();

    private Compare(Path folder, String launcher, Jars jars, int runs) {
        this.folder = folder;
        this.launcher = launcher;
        this.jars = jars;
        this.runs = runs;
    }

    /** Class paths. {@code all}: the workbook library and all others; each of the rest: the folder of the rivals' classes, then its jars. */
    private record Jars(String all, String commonsCsv, String fastCsv, String duckDb) {
        String classes() {
            return commonsCsv.split(File.pathSeparator)[0];
        }
    }

    /**
     * {@code FOLDER LAUNCHER ALLJARS COMMONSCSVJARS FASTCSVJARS DUCKDBJARS RUNS LARGEST}: the class paths of the rivals, and the number of
     * rows of the largest growing case.
     */
    public static void main(String[] args) throws IOException, InterruptedException {
        Path folder = Files.createDirectories(Path.of(args[0]));
        Jars jars = new Jars(args[2], args[3], args[4], args[5]);
        Compare compare = new Compare(folder, args[1], jars, Integer.parseInt(args[6]));
        compare.all(Integer.parseInt(args[7]));
    }

    private void all(int largest) throws IOException, InterruptedException {
        Path narrow = MakeInput.narrow(folder, 1_000_000);
        Path wide = MakeInput.wide(folder, 200_000);
        Path[] clinic = MakeInput.clinic(folder, 20_000);
        System.out.printf(
                Locale.ROOT, "narrow: %d MB, wide: %d MB%n%n", Files.size(narrow) >> 20, Files.size(wide) >> 20);

        Map<String, List<String>> score = new LinkedHashMap<>();
        score.put("ours, score to file", ours("", "score", narrow.toString(), "--out", out("ours.csv"), "--overwrite"));
        score.put(
                "ours in -Xmx48m",
                ours("-Xmx48m", "score", narrow.toString(), "--out", out("small.csv"), "--overwrite"));
        score.put(
                "ours, one thread",
                ours("-Dlumbrical.threads=1", "score", narrow.toString(), "--out", out("one.csv"), "--overwrite"));
        score.put(
                "ours, row by row",
                ours(
                        "-XX:TieredStopAtLevel=4 -Dlumbrical.threads=0",
                        "score",
                        narrow.toString(),
                        "--out",
                        out("rows.csv"),
                        "--overwrite"));
        score.put("(a) Commons CSV, parse only", tableRival("parse", narrow.toString()));
        score.put("(b) plain loop", tableRival("loop", narrow.toString(), out("loop.csv")));
        score.put("(c) bytes summed", tableRival("bytes", narrow.toString()));
        score.put("FastCSV loop", fastCsvRival(narrow, "fast.csv"));
        score.put("DuckDB", duckDbRival(narrow, "duck.csv"));
        table(
                "1,000,000 sittings of quickdash, 15 columns",
                score,
                "(a) Commons CSV, parse only",
                "(b) plain loop",
                "FastCSV loop",
                "DuckDB");
        for (String other : List.of("small.csv", "one.csv", "rows.csv")) {
            sameBytes("ours.csv", other);
        }
        quoted(1_000_000);
        longRows(1_000_000);

        Map<String, List<String>> wideScore = new LinkedHashMap<>();
        wideScore.put(
                "ours, score to file", ours("", "score", wide.toString(), "--out", out("wide.csv"), "--overwrite"));
        wideScore.put("(a) Commons CSV, parse only", tableRival("parse", wide.toString()));
        table("200,000 sittings of six forms, 10 % open", wideScore, "(a) Commons CSV, parse only");

        track("100,000 sittings of one form, 20,000 episodes", clinic, "-Xmx256m", this);
        track(
                "80,000 sittings of five to seven forms, 20,000 episodes",
                MakeInput.visits(folder, 20_000),
                "-Xmx512m",
                this);
        track(
                "240,000 sittings of five scales, 60,000 episodes",
                MakeInput.fiveScales(folder, 60_000),
                "-Xmx700m",
                once());

        Path[] groups = MakeInput.groups(folder, 20_000);
        Map<String, List<String>> cohort = new LinkedHashMap<>();
        cohort.put(
                "ours, cohort in -Xmx512m",
                ours(
                        "-Xmx512m",
                        "cohort",
                        groups[0].toString(),
                        "--episodes",
                        groups[1].toString(),
                        "--by",
                        "condition,procedure,surgeon",
                        "--anchor",
                        "grc",
                        "--out",
                        out("groups.xlsx"),
                        "--overwrite"));
        table("100,000 sittings of eight forms, groups", cohort, "ours, cohort in -Xmx512m");

        Map<String, List<String>> books = new LinkedHashMap<>();
        books.put("(d) POI streaming, as ours", workbookRival("sxssf", out("s.xlsx")));
        books.put("(d) POI in memory", workbookRival("xssf", out("x.xlsx")));
        once().table("200,000 rows of 20 cells to XLSX (one run)", books, "(d) POI in memory");

        Path workbook = MakeInput.workbook(folder, 200_000);
        Map<String, List<String>> booksIn = new LinkedHashMap<>();
        booksIn.put(
                "ours, score to file",
                ours("", "score", workbook.toString(), "--out", out("book0.csv"), "--overwrite"));
        booksIn.put(
                "ours in -Xmx48m",
                ours("-Xmx48m", "score", workbook.toString(), "--out", out("book.csv"), "--overwrite"));
        booksIn.put("(d) POI in memory, read only", workbookRival("xssf-in", workbook.toString()));
        table("200,000 rows of 20 cells from XLSX", booksIn, "(d) POI in memory, read only");

        Map<String, List<String>> start = new LinkedHashMap<>();
        start.put("ours, instruments", ours("", "instruments"));
        Path demo = Path.of(launcher).resolveSibling("shared").resolve("demo");
        String responses = demo.resolve("responses.csv").toString();
        String episodes = demo.resolve("episodes.csv").toString();
        start.put("ours, check of the demo", ours("", "check", responses));
        start.put("ours, grip of the demo", ours("", "grip", responses));
        start.put("ours, due of the demo", ours("", "due", responses, "--episodes", episodes));
        start.put(
                "ours, track of the demo",
                ours("", "track", responses, "--episodes", episodes, "--out", out("demo.xlsx"), "--overwrite"));
        start.put("(e) a one-line program", java(jars.classes(), OneLine.class));
        table("start-up", start, "(e) a one-line program");

        System.out.println("cost as work grows (track of five to seven forms at a sitting, one run each)");
        for (int sittings = 1_000; sittings <= largest / 10; sittings *= 10) {
            Path[] files = MakeInput.visits(folder, sittings / 4);
            grow(sittings, "sitting", track(files, "-Xmx" + (160 + sittings / 180) + "m", "grow.xlsx"));
        }
        System.out.println("cost as work grows (score, one run each)");
        for (int rows = 10_000; rows <= largest; rows *= 10) {
            Path file = MakeInput.narrow(folder, rows);
            long heap = 48 + Math.max(0, rows - 1_000_000L) * 16 / 1_000_000; // 16 bytes a sitting, to notice doubles
            grow(
                    rows,
                    "row",
                    ours("-Xmx" + heap + "m", "score", file.toString(), "--out", out("grow.csv"), "--overwrite"));
        }
    }

    /** A table as an export writes it that quotes what holds a comma. */
    private void quoted(int rows) throws IOException, InterruptedException {
        Path quoted = MakeInput.quoted(folder, rows);
        Map<String, List<String>> score = new LinkedHashMap<>();
        score.put(
                "ours, score to file", ours("", "score", quoted.toString(), "--out", out("quoted.csv"), "--overwrite"));
        score.put("(b) plain loop", tableRival("loop", quoted.toString(), out("quoted-loop.csv")));
        score.put("FastCSV loop", fastCsvRival(quoted, "quoted-fast.csv"));
        table(String.format(Locale.ROOT, "%,d quoted sittings", rows), score, "(b) plain loop", "FastCSV loop");
        run(ours(
                "-XX:TieredStopAtLevel=4 -Dlumbrical.threads=0",
                "score",
                quoted.toString(),
                "--out",
                out("quoted-rows.csv"),
                "--overwrite"));
        sameBytes("quoted.csv", "quoted-rows.csv");
    }

    /** A table with a row for each response, whose sittings are known only at its end. */
    private void longRows(int rows) throws IOException, InterruptedException {
        Path responses = MakeInput.longRows(folder, rows);
        Map<String, List<String>> score = new LinkedHashMap<>();
        score.put(
                "ours, score to file",
                ours("", "score", responses.toString(), "--out", out("long.csv"), "--overwrite"));
        score.put("(b) plain loop", tableRival("long", responses.toString(), out("long-loop.csv")));
        table(String.format(Locale.ROOT, "%,d rows of one response each", rows), score, "(b) plain loop");
    }

    private void sameBytes(String one, String other) throws IOException {
        System.out.println(
                "same bytes as " + other + ": " + (Files.mismatch(folder.resolve(one), folder.resolve(other)) < 0));
    }

    private void grow(int many, String of, List<String> command) throws IOException, InterruptedException {
        Sample s = run(command);
        System.out.printf(
                Locale.ROOT,
                "  %,12d %ss  %8.3f s  %8.2f microseconds a %s  %5d MB peak%n",
                many,
                of,
                s.seconds(),
                s.seconds() / many * 1e6,
                of,
                s.peakMb());
    }

    private void track(String title, Path[] files, String memory, Compare runs)
            throws IOException, InterruptedException {
        String ours = "ours, track in " + memory;
        runs.table(title, Map.of(ours, track(files, memory, "clinic.xlsx")), ours);
    }

    private List<String> track(Path[] files, String memory, String name) {
        return ours(
                memory,
                "track",
                files[0].toString(),
                "--episodes",
                files[1].toString(),
                "--out",
                out(name),
                "--overwrite");
    }

    /** For what takes a minute. */
    private Compare once() {
        Compare once = new Compare(folder, launcher, jars, 1);
        once.outputs.addAll(outputs);
        return once;
    }

    /** A file that is written; it is removed before each run, so that no run pays for the file of the one before. */
    private String out(String name) {
        String file = folder.resolve(name).toString();
        outputs.add(file);
        return file;
    }

    private List<String> ours(String options, String... words) {
        List<String> command = new ArrayList<>(List.of("env", "LUMBRICAL_JAVA_OPTS=" + options, launcher));
        command.addAll(Arrays.asList(words));
        if (!words[0].equals("instruments")) {
            command.addAll(List.of("--as-of", "2026-11-25", "--quiet"));
        }
        return command;
    }

    private List<String> tableRival(String... words) {
        return java(jars.commonsCsv(), TableRivals.class, words);
    }

    private List<String> fastCsvRival(Path file, String name) {
        return java(jars.fastCsv(), FastCsvRival.class, file.toString(), out(name));
    }

    private List<String> duckDbRival(Path file, String name) {
        return java(jars.duckDb(), DuckDbRival.class, file.toString(), out(name));
    }

    private List<String> workbookRival(String... words) {
        return java(jars.all(), WorkbookRivals.class, words);
    }

    /** A rival gets no jar that it does not need: to look through jars takes time. */
    private static List<String> java(String classPath, Class<?> program, String... words) {
        List<String> command = new ArrayList<>(List.of("java", "-cp", classPath, program.getName()));
        command.addAll(Arrays.asList(words));
        return command;
    }

    private record Sample(double seconds, long peakMb) {}

    private void table(String title, Map<String, List<String>> cases, String... against)
            throws IOException, InterruptedException {
        Map<String, List<Sample>> samples = new LinkedHashMap<>();
        for (List<String> command : cases.values()) {
            run(command); // warm the disk, not counted
        }
        for (int i = 0; i < runs; i++) {
            for (Map.Entry<String, List<String>> c : cases.entrySet()) {
                samples.computeIfAbsent(c.getKey(), k -> new ArrayList<>()).add(run(c.getValue()));
            }
        }
        System.out.println(title);
        for (Map.Entry<String, List<Sample>> c : samples.entrySet()) {
            double[] seconds =
                    c.getValue().stream().mapToDouble(Sample::seconds).sorted().toArray();
            long peak = c.getValue().stream().mapToLong(Sample::peakMb).max().orElse(0);
            StringBuilder ratios = new StringBuilder();
            for (String rival : against) {
                ratios.append(String.format(
                        Locale.ROOT, "  %6.2fx", median(samples.get(rival)) / seconds[seconds.length / 2]));
            }
            System.out.printf(
                    Locale.ROOT,
                    "  %-30s median %7.3f s (%.3f to %.3f)  %5d MB peak%s%n",
                    c.getKey(),
                    seconds[seconds.length / 2],
                    seconds[0],
                    seconds[seconds.length - 1],
                    peak,
                    ratios);
        }
        System.out.println("  (last columns: how many times faster than " + String.join("; ", against) + ")");
        System.out.println();
    }

    private static double median(List<Sample> samples) {
        double[] seconds =
                samples.stream().mapToDouble(Sample::seconds).sorted().toArray();
        return seconds[seconds.length / 2];
    }

    private Sample run(List<String> command) throws IOException, InterruptedException {
        for (String word : command) {
            if (outputs.contains(word)) {
                Files.deleteIfExists(Path.of(word));
            }
        }
        settleDisk();
        long start = System.nanoTime();
        Process process = new ProcessBuilder(command)
                .redirectOutput(ProcessBuilder.Redirect.DISCARD)
                .redirectError(new File("/dev/null"))
                .start();
        long peak = 0;
        while (process.isAlive()) {
            peak = Math.max(peak, peakOf(process.pid()));
            process.waitFor(5, java.util.concurrent.TimeUnit.MILLISECONDS);
        }
        double seconds = (System.nanoTime() - start) / 1e9;
        // Ours ends with 1 where it has found problems; a rival only where it has failed.
        if (process.exitValue() > 1
                || process.exitValue() == 1 && command.get(0).equals("java")) {
            System.out.println("failed with " + process.exitValue() + ": " + command);
            return new Sample(Double.NaN, peak >> 10);
        }
        return new Sample(seconds, peak >> 10);
    }

    /** What the run before left for the system to write is written first; ours waits for the disk at its end, a rival does not. */
    private static void settleDisk() throws InterruptedException {
        try {
            new ProcessBuilder("sync").start().waitFor();
        } catch (IOException e) {
            // a system without that command: the runs are less even
        }
    }

    /** Peak resident memory in KB so far, where the system tells (Linux); else 0. */
    private static long peakOf(long pid) {
        try {
            return Files.readAllLines(Path.of("/proc/" + pid + "/status")).stream()
                    .filter(line -> line.startsWith("VmHWM"))
                    .mapToLong(line -> Long.parseLong(line.replaceAll("[^0-9]", "")))
                    .findFirst()
                    .orElse(0);
        } catch (IOException e) {
            return 0;
        }
    }
}
