package lumbrical.command;

import java.util.List;
import java.util.Locale;
import java.util.Optional;
import java.util.stream.Collectors;
import java.util.stream.Stream;
import lumbrical.output.OutputFile;

/** Options of every command that writes. */
final class OutputOptions {
    private final TextOption out =
            TextOption.written("--out", "FILE", "Write to this file or folder (default: standard output).");
    private final FlagOption overwrite = FlagOption.of("--overwrite", "Replace files that exist.");
    private final TextOption problems =
            TextOption.written("--problems", "FILE", "Also write problems and notes to this CSV or XLSX file.");
    private final FlagOption noFormulaGuard =
            FlagOption.of("--no-formula-guard", "Write texts that look like formulas as they are.");
    private final FlagOption quiet = FlagOption.of("--quiet", "Say only what went wrong.");
    private final FlagOption debug = FlagOption.of("--debug", "Show what a programmer needs when the program fails.");

    Stream<CliOption> options() {
        return Stream.of(out, overwrite, problems, noFormulaGuard, quiet, debug);
    }

    /** The output file. */
    Optional<OutputFile> file() {
        return out.value().map(this::at);
    }

    /** The output file of plain text. */
    Optional<OutputFile> textFile() {
        return file().map(file -> switch (Ending.of(file)) {
            case CSV, TXT, OTHER -> file;
            case XLSX, ICS, HTML ->
                throw new UsageException("--out " + file.target().getFileName()
                        + ": this is plain text. Name a file that ends in .txt.");
        });
    }

    /** The output file of a table, CSV or XLSX. */
    Optional<OutputFile> table() {
        return file(Ending.CSV, Ending.XLSX);
    }

    /** The output file, whose name must end in one of these; no ending is CSV. */
    Optional<OutputFile> file(Ending... possible) {
        return out.value().map(name -> at(name, "--out", possible));
    }

    /** A file of that name for an option, whose name must end in one of these; no ending is CSV. */
    OutputFile at(String name, String option, Ending... possible) {
        OutputFile file = at(name);
        Ending ending = Ending.of(file);
        if (!List.of(possible).contains(ending)) {
            throw new UsageException(option + " " + file.target().getFileName()
                    + ": this cannot be written here. Name a file that ends in "
                    + Stream.of(possible).map(Ending::shown).collect(Collectors.joining(" or ")) + ".");
        }
        return file;
    }

    /** What a file holds, told by the ending of its name in any case. */
    enum Ending {
        CSV,
        XLSX,
        ICS,
        HTML,
        TXT,
        OTHER;

        String shown() {
            return "." + name().toLowerCase(Locale.ROOT);
        }

        /** What the ending of a name says; without an ending CSV. */
        static Ending of(OutputFile file) {
            String name = String.valueOf(file.target().getFileName()).toLowerCase(Locale.ROOT);
            int dot = name.lastIndexOf('.');
            if (dot <= 0) {
                return CSV;
            }
            return Stream.of(values())
                    .filter(ending -> ending != OTHER && name.substring(dot).equals(ending.shown()))
                    .findFirst()
                    .orElse(OTHER);
        }
    }

    /** The output file of a command that needs one. */
    OutputFile requiredFile(String example) {
        return file().orElseThrow(() ->
                new UsageException("--out is missing. Name the file to write, such as --out " + example + "."));
    }

    /** As {@link #requiredFile(String)}, of a workbook. */
    OutputFile requiredWorkbook(String example) {
        requiredFile(example);
        return file(Ending.XLSX).orElseThrow();
    }

    /** The name of the output folder of a command that needs one. */
    String requiredFolder(String example) {
        return out.value()
                .orElseThrow(() -> new UsageException(
                        "--out is missing. Name the folder to write, such as --out " + example + "."));
    }

    Optional<OutputFile> problemsFile() {
        return problems.value().map(name -> at(name, "--problems", Ending.CSV, Ending.XLSX));
    }

    /** A file of that name, refused before any work if it may not be written. */
    OutputFile at(String name) {
        return OutputFile.at(name, overwrite.given());
    }

    /** Whether the file's name asks for a workbook rather than CSV. */
    static boolean isWorkbook(OutputFile file) {
        return Ending.of(file) == Ending.XLSX;
    }

    boolean overwrite() {
        return overwrite.given();
    }

    boolean guard() {
        return !noFormulaGuard.given();
    }

    boolean quiet() {
        return quiet.given();
    }
}
