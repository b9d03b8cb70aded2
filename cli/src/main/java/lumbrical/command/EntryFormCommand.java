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
import lumbrical.workbook.EpisodesForm;

final class EntryFormCommand implements Command {
    private final Console console;
    private final Positional ids = Positional.of("INSTRUMENT", "0..*", "0..*", "Instrument ids.");
    private final FlagOption episodes =
            FlagOption.of("--episodes", "A form for the table of episodes instead; without instruments.");
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
        return List.of(
                "An empty workbook for data entry that scores itself: a list of allowed codes in every cell, scores beside them.",
                "With --episodes, an empty table of episodes.");
    }

    @Override
    public Stream<CliOption> options() {
        return Stream.concat(Stream.of(ids, episodes, csv, asOf, definitions), output.options());
    }

    @Override
    public int call() {
        if (episodes.given() != ids.values().isEmpty()) {
            throw new UsageException(
                    episodes.given()
                            ? "--episodes makes the form for the table of episodes; leave out the instruments, or --episodes."
                            : "Name one or more instruments by their ids, or give --episodes. 'instruments' lists the ids.");
        }
        Optional<OutputFile> target = csv.given()
                ? output.file(OutputOptions.Ending.CSV)
                : Optional.of(output.requiredWorkbook(episodes.given() ? "episodes.xlsx" : "form.xlsx"));
        LocalDate made = ReadingOptions.day(asOf.value());
        Catalogue catalogue = ReadingOptions.catalogue(definitions.value());
        List<Instrument> instruments = ids.values().stream()
                .map(id -> InstrumentsCommand.find(catalogue, id))
                .distinct()
                .toList();
        List<String> headings = episodes.given() ? EpisodesForm.headings() : EntryForm.headings(instruments);
        String header = String.join(",", headings) + "\r\n";
        if (csv.given() && target.isPresent()) {
            target.get().write(out -> out.write(header.getBytes(StandardCharsets.UTF_8)));
        } else if (csv.given()) {
            console.out().print(header);
        } else {
            target.orElseThrow().writeWithScratch((out, scratch) -> {
                if (episodes.given()) {
                    EpisodesForm.write(catalogue, made, scratch, out);
                } else {
                    EntryForm.write(instruments, made, scratch, out);
                }
            });
        }
        return ExitStatus.DONE;
    }
}
