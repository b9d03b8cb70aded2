package org.handoutcomes.command;

import java.io.PrintWriter;
import java.util.List;
import java.util.Optional;
import java.util.concurrent.Callable;
import org.handoutcomes.catalogue.Catalogue;
import org.handoutcomes.catalogue.NotIncluded;
import org.handoutcomes.document.Nearest;
import org.handoutcomes.instrument.Instrument;
import org.handoutcomes.output.OutputFile;
import picocli.CommandLine.Command;
import picocli.CommandLine.Mixin;
import picocli.CommandLine.Option;
import picocli.CommandLine.Parameters;

@Command(
        name = "instruments",
        description =
                "Lists the instruments, or shows one in full: items, codes, scales, rules, thresholds, licence, sources.",
        sortOptions = false)
final class InstrumentsCommand implements Callable<Integer> {
    private final Console console;

    @Parameters(paramLabel = "ID", arity = "0..1", description = "Instrument id.")
    private Optional<String> id = Optional.empty();

    @Option(names = "--list-thresholds", description = "The instrument's thresholds as a table.")
    private boolean listThresholds;

    @Option(names = "--not-included", description = "Instruments without a scorer here, and why.")
    private boolean notIncluded;

    @Option(names = "--definitions", paramLabel = "DIR", description = "A folder with instruments of your own.")
    private Optional<String> definitions = Optional.empty();

    @Mixin
    private OutputOptions output = new OutputOptions();

    @Option(names = "--help", usageHelp = true, description = "Show this help.")
    private boolean help;

    InstrumentsCommand(Console console) {
        this.console = console;
    }

    @Override
    public Integer call() {
        Optional<OutputFile> target = output.file();
        Catalogue catalogue = ReadingOptions.catalogue(definitions);
        if (target.isPresent()) {
            target.get().writeText(out -> print(catalogue, new PrintWriter(out)));
        } else {
            print(catalogue, console.out());
        }
        return ExitStatus.DONE;
    }

    private void print(Catalogue catalogue, PrintWriter out) {
        if (notIncluded) {
            Catalogue.notIncluded().forEach(n -> printNotIncluded(n, out));
        } else if (id.isEmpty()) {
            list(catalogue, out);
        } else {
            Instrument instrument = find(catalogue, id.get());
            List<String> lines =
                    listThresholds ? InstrumentWords.thresholdTable(instrument) : InstrumentWords.inFull(instrument);
            lines.forEach(out::println);
        }
        out.flush();
    }

    private static void printNotIncluded(NotIncluded n, PrintWriter out) {
        out.println(n.name());
        out.println("  why: " + n.reason());
        out.println("  needed: " + n.needed());
        out.println("  source: " + n.source());
    }

    private static void list(Catalogue catalogue, PrintWriter out) {
        for (Instrument instrument : catalogue.all()) {
            out.println(instrument.id() + "  " + instrument.facts().title()
                    + instrument
                            .facts()
                            .variantOf()
                            .map(v -> "  [another coding of " + v + "]")
                            .orElse(""));
            out.println("    scales: " + InstrumentWords.scaleNames(instrument));
            out.println("    licence: " + instrument.facts().licence().terms() + ", "
                    + instrument.facts().licence().holder());
            out.println("    standing of rules: " + InstrumentWords.standings(instrument));
        }
        out.println();
        out.println("'instruments ID' shows one in full; 'instruments --not-included' what has no scorer here.");
        out.println("Names belong to their holders; no affiliation. What a clinic must license, it licenses itself.");
    }

    /** The instrument, or what was probably meant. */
    static Instrument find(Catalogue catalogue, String id) {
        return catalogue.find(id).orElseThrow(() -> {
            List<String> ids = catalogue.ids().stream().map(Object::toString).toList();
            String meant =
                    Nearest.to(id, ids).map(n -> " Did you mean " + n + "?").orElse("");
            return new UsageError(
                    "'" + id + "' is no instrument." + meant + " Instruments are " + String.join(", ", ids) + ".");
        });
    }
}
