package lumbrical.command;

import java.nio.charset.StandardCharsets;
import java.time.LocalDate;
import java.util.List;
import java.util.Optional;
import java.util.stream.Stream;
import lumbrical.catalogue.Catalogue;
import lumbrical.instrument.Instrument;
import lumbrical.output.OutputFile;
import lumbrical.workbook.EntryForm;

final class EntryFormCommand implements Command {
    private final Console console;
    private final Positional ids = Positional.of("INSTRUMENT", "0..*", "1..*", "Instrument ids.");
    private final FlagOption csv =
            FlagOption.of("--csv", "Only the headings, as CSV (default output: standard output).");
    private final TextOption asOf = TextOption.of("--as-of", "DATE", "The day of making (default: today).");
    private final TextOption definitions =
            TextOption.of("--definitions", "DIR", "A folder with instruments of your own.");
    private final OutputOptions output = new OutputOptions();

    EntryFormCommand(Console console) {
        this.console = console;
    }

    @Override
    public List<String> description() {
        return List.of("An empty workbook for data entry: a list of allowed codes in every cell, blanks counted.");
    }

    @Override
    public Stream<CliOption> options() {
        return Stream.concat(Stream.of(ids, csv, asOf, definitions), output.options());
    }

    @Override
    public int call() {
        Optional<OutputFile> target = csv.given() ? output.file() : Optional.of(output.requiredFile("form.xlsx"));
        LocalDate made = ReadingOptions.day(asOf.value());
        Catalogue catalogue = ReadingOptions.catalogue(definitions.value());
        List<Instrument> instruments = ids.values().stream()
                .distinct()
                .map(id -> InstrumentsCommand.find(catalogue, id))
                .toList();
        String header = String.join(",", EntryForm.headings(instruments)) + "\r\n";
        if (csv.given() && target.isPresent()) {
            target.get().write(out -> out.write(header.getBytes(StandardCharsets.UTF_8)));
        } else if (csv.given()) {
            console.out().print(header);
        } else {
            target.orElseThrow().writeWithScratch((out, scratch) -> EntryForm.write(instruments, made, scratch, out));
        }
        return ExitStatus.DONE;
    }
}
