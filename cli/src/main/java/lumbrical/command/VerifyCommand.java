package lumbrical.command;

import java.io.File;
import java.io.PrintWriter;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.stream.Collectors;
import java.util.stream.Stream;
import lumbrical.catalogue.Catalogue;
import lumbrical.output.OutputFile;
import lumbrical.verification.Dossier;
import lumbrical.verification.DossierPage;
import lumbrical.verification.ReleasedFile;
import lumbrical.verification.StatedRule;
import lumbrical.verification.VectorReport;
import lumbrical.verification.VectorRun;

final class VerifyCommand implements Command {
    private final Console console;
    private final OutputOptions output = new OutputOptions();
    private final TextOption dossier = TextOption.written(
            "--dossier", "FILE.html", "Write the validation record of this installation, for those who approve it.");

    VerifyCommand(Console console) {
        this.console = console;
    }

    @Override
    public List<String> description() {
        return List.of(
                "Scores the test cases that come with the program (its vectors) and says whether every score is right.");
    }

    @Override
    public Stream<CliOption> options() {
        return Stream.concat(Stream.of(dossier), output.options());
    }

    @Override
    public int call() {
        Optional<OutputFile> target = output.textFile();
        Optional<OutputFile> record =
                dossier.value().map(name -> output.at(name, "--dossier", OutputOptions.Ending.HTML));
        Path vectors = console.home().resolve("test-vectors");
        if (!Files.isDirectory(vectors.resolve("vectors"))) {
            throw new UsageException(
                    "The installation has no folder test-vectors/vectors. Get a whole copy of the program.");
        }
        Catalogue catalogue = Catalogue.builtIn();
        VectorReport report = VectorRun.run(vectors, catalogue);
        if (target.isPresent()) {
            target.get().writeText(out -> print(report, catalogue, new PrintWriter(out)));
        } else {
            print(report, catalogue, console.out());
        }
        ReleasedFile.of(vectors).stream()
                .filter(file -> !file.same())
                .forEach(file -> console.say(file.name() + ": " + file.words()));
        record.ifPresent(file -> {
            Dossier made = Dossier.of(vectors, installation());
            file.writeText(out -> DossierPage.write(made, out));
        });
        console.say(
                report.good()
                        ? "all test cases passed"
                        : "test cases failed: " + report.failures().size());
        return report.good() ? ExitStatus.DONE : ExitStatus.PROBLEMS;
    }

    private List<String> installation() {
        List<String> lines = new ArrayList<>();
        lines.add("program: " + Main.VERSION);
        lines.add("Java: " + Runtime.version() + ", " + System.getProperty("java.vendor", ""));
        lines.add("system: " + System.getProperty("os.name") + " " + System.getProperty("os.version") + " "
                + System.getProperty("os.arch"));
        lines.addAll(programFiles());
        return lines;
    }

    /** The files of the program itself that run here, with their hashes. */
    private static List<String> programFiles() {
        return Stream.of(System.getProperty("java.class.path", "").split(File.pathSeparator))
                .map(Path::of)
                .filter(path -> path.toString().endsWith(".jar") && Files.isRegularFile(path))
                .map(jar -> jar.getFileName() + ": SHA-256 " + ReleasedFile.sha256(jar))
                .sorted()
                .toList();
    }

    /** Where the expected value of a test case comes from. */
    private static String origin(String tag) {
        return switch (tag) {
            case "published" -> "published";
            case "derived" -> "worked out from the stated rule";
            case "second-hand" -> "second-hand";
            case "from-memory" -> "from memory";
            default -> tag;
        };
    }

    private static void print(VectorReport report, Catalogue catalogue, PrintWriter out) {
        for (VectorReport.PerInstrument i : report.instruments()) {
            out.println(i.id() + ": " + i.passed() + " of " + i.rows() + " rows passed ("
                    + i.byTag().entrySet().stream()
                            .map(e -> e.getValue() + " " + origin(e.getKey()))
                            .collect(Collectors.joining(", "))
                    + ")");
        }
        List<StatedRule> rules = catalogue.all().stream()
                .flatMap(instrument -> StatedRule.of(instrument).stream())
                .toList();
        out.println("Where the rules and codes come from:");
        StatedRule.shares(rules).forEach(share -> out.println("  " + share));
        report.failures().forEach(f -> out.println("FAILED " + f));
        out.println(report.instruments().stream()
                        .mapToInt(VectorReport.PerInstrument::passed)
                        .sum() + " of " + report.rows() + " rows passed");
        out.flush();
    }
}
