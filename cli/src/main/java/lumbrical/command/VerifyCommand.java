package lumbrical.command;

import java.io.PrintWriter;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.TreeMap;
import java.util.stream.Stream;
import lumbrical.catalogue.Catalogue;
import lumbrical.instrument.Composition;
import lumbrical.instrument.Instrument;
import lumbrical.instrument.Scale;
import lumbrical.output.OutputFile;
import lumbrical.verification.VectorReport;
import lumbrical.verification.VectorRun;

final class VerifyCommand implements Command {
    private final Console console;
    private final OutputOptions output = new OutputOptions();

    VerifyCommand(Console console) {
        this.console = console;
    }

    @Override
    public List<String> description() {
        return List.of("Runs the vectors of this installation and reports pass or fail.");
    }

    @Override
    public Stream<Word> words() {
        return output.words();
    }

    @Override
    public int call() {
        Optional<OutputFile> target = output.file();
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
        console.say(
                report.good()
                        ? "all vectors passed"
                        : "vectors failed: " + report.failures().size());
        return report.good() ? ExitStatus.DONE : ExitStatus.PROBLEMS;
    }

    private static void print(VectorReport report, Catalogue catalogue, PrintWriter out) {
        for (VectorReport.PerInstrument i : report.instruments()) {
            out.println(i.id() + ": " + i.passed() + " of " + i.rows() + " rows passed; on a published example "
                    + i.byTag().getOrDefault("published", 0) + " " + i.byTag());
        }
        Map<String, Integer> standings = new TreeMap<>();
        for (Instrument instrument : catalogue.all()) {
            for (Scale scale : instrument.scales()) {
                rules(scale).forEach((standing, n) -> standings.merge(standing, n, Integer::sum));
            }
        }
        int rules = standings.values().stream().mapToInt(Integer::intValue).sum();
        standings.forEach((standing, n) -> out.println(
                "rules " + standing + ": " + n + " of " + rules + " (" + Math.round(100.0 * n / rules) + " %)"));
        report.failures().forEach(f -> out.println("FAILED " + f));
        out.println(report.instruments().stream()
                        .mapToInt(VectorReport.PerInstrument::passed)
                        .sum() + " of " + report.rows() + " rows passed");
        out.flush();
    }

    private static Map<String, Integer> rules(Scale scale) {
        Map<String, Integer> standings = new TreeMap<>();
        if (scale.composition() instanceof Composition.FromItems made) {
            standings.merge(made.rule().provenance().standing().code(), 1, Integer::sum);
            standings.merge(made.missing().provenance().standing().code(), 1, Integer::sum);
            made.skip().ifPresent(s -> standings.merge(s.provenance().standing().code(), 1, Integer::sum));
        } else if (scale.composition() instanceof Composition.FromParts parts) {
            standings.merge(parts.rule().provenance().standing().code(), 1, Integer::sum);
        }
        return standings;
    }
}
