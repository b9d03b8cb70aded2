package org.handoutcomes.command;

import java.nio.charset.StandardCharsets;
import java.time.LocalDate;
import java.util.List;
import java.util.Optional;
import java.util.concurrent.Callable;
import org.handoutcomes.catalogue.Catalogue;
import org.handoutcomes.instrument.Instrument;
import org.handoutcomes.output.OutputFile;
import org.handoutcomes.workbook.EntryForm;
import picocli.CommandLine.Command;
import picocli.CommandLine.Mixin;
import picocli.CommandLine.Option;
import picocli.CommandLine.Parameters;

@Command(
        name = "entry-form",
        description = "An empty workbook for data entry: a list of allowed codes in every cell, blanks counted.",
        sortOptions = false)
final class EntryFormCommand implements Callable<Integer> {
    private final Console console;

    @Parameters(paramLabel = "INSTRUMENT", arity = "1..*", description = "Instrument ids.")
    private List<String> ids = List.of();

    @Option(names = "--csv", description = "Only the headings, as CSV (default output: standard output).")
    private boolean csv;

    @Option(names = "--as-of", paramLabel = "DATE", description = "The day of making (default: today).")
    private Optional<String> asOf = Optional.empty();

    @Option(names = "--definitions", paramLabel = "DIR", description = "A folder with instruments of your own.")
    private Optional<String> definitions = Optional.empty();

    @Mixin
    private OutputOptions output = new OutputOptions();

    @Option(names = "--help", usageHelp = true, description = "Show this help.")
    private boolean help;

    EntryFormCommand(Console console) {
        this.console = console;
    }

    @Override
    public Integer call() {
        Optional<OutputFile> target = csv ? output.file() : Optional.of(output.requiredFile("form.xlsx"));
        LocalDate made = ReadingOptions.day(asOf);
        Catalogue catalogue = ReadingOptions.catalogue(definitions);
        List<Instrument> instruments = ids.stream()
                .distinct()
                .map(id -> InstrumentsCommand.find(catalogue, id))
                .toList();
        String header = String.join(",", EntryForm.headings(instruments)) + "\r\n";
        if (csv && target.isPresent()) {
            target.get().write(out -> out.write(header.getBytes(StandardCharsets.UTF_8)));
        } else if (csv) {
            console.out().print(header);
        } else {
            target.orElseThrow().writeWithScratch((out, scratch) -> EntryForm.write(instruments, made, scratch, out));
        }
        return ExitStatus.DONE;
    }
}
