package lumbrical.command;

import java.io.PrintWriter;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import java.util.stream.Stream;
import lumbrical.catalogue.Catalogue;
import lumbrical.catalogue.NotIncluded;
import lumbrical.catalogue.Summary;
import lumbrical.document.Nearest;
import lumbrical.instrument.Instrument;
import lumbrical.output.OutputFile;

final class InstrumentsCommand implements Command {
    private final Console console;
    private final Positional id = Positional.of("ID", "0", "0..1", "Instrument id.");
    private final FlagOption listThresholds =
            FlagOption.of("--list-thresholds", "The instrument's thresholds as a table.");
    private final FlagOption notIncluded =
            FlagOption.of("--not-included", "Instruments without a scorer here, and why.");
    private final TextOption definitions =
            TextOption.of("--definitions", "DIR", "A folder with instruments of your own.");
    private final ListOption versions = ListOption.of(
            "--definition", "ID@VERSION", "Show an earlier version of an instrument (default: the newest).");
    private final OutputOptions output = new OutputOptions();

    InstrumentsCommand(Console console) {
        this.console = console;
    }

    @Override
    public List<String> description() {
        return List.of(
                "Lists the instruments, or shows one in full: items, codes, scales, rules, thresholds, licence, sources.");
    }

    @Override
    public Stream<CliOption> options() {
        return Stream.concat(Stream.of(id, listThresholds, notIncluded, definitions, versions), output.options());
    }

    @Override
    public int call() {
        Optional<OutputFile> target = output.textFile();
        Catalogue catalogue = ReadingOptions.catalogue(definitions.value(), versions.values());
        if (target.isPresent()) {
            target.get().writeText(out -> print(catalogue, new PrintWriter(out)));
        } else {
            print(catalogue, console.out());
        }
        return ExitStatus.DONE;
    }

    private void print(Catalogue catalogue, PrintWriter out) {
        if (notIncluded.given()) {
            Catalogue.notIncluded().forEach(n -> printNotIncluded(n, out));
        } else if (id.values().stream().findFirst().isEmpty()) {
            list(catalogue, out);
        } else {
            Instrument instrument =
                    find(catalogue, id.values().stream().findFirst().get());
            List<String> lines = listThresholds.given()
                    ? InstrumentWords.thresholdTable(instrument, catalogue.conditions())
                    : InstrumentWords.inFull(instrument);
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
        for (Summary summary : catalogue.summaries()) {
            InstrumentWords.inShort(summary).forEach(out::println);
        }
        out.println();
        out.println("'instruments ID' shows one in full; 'instruments --not-included' what has no scorer here.");
        out.println("Names belong to their holders; no affiliation. What a clinic must license, it licenses itself.");
    }

    /** The instrument, or what was probably meant. */
    static Instrument find(Catalogue catalogue, String written) {
        String id = written.strip().toLowerCase(Locale.ROOT);
        return catalogue.find(id).orElseThrow(() -> {
            List<String> ids = catalogue.ids().stream().map(Object::toString).toList();
            String meant =
                    Nearest.to(id, ids).map(n -> " Did you mean " + n + "?").orElse("");
            return new UsageException(
                    "'" + written + "' is no instrument." + meant + " Instruments are " + String.join(", ", ids) + ".");
        });
    }
}
