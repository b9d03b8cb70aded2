package org.handoutcomes.command;

import java.nio.file.Path;
import java.util.Locale;
import java.util.Optional;
import org.handoutcomes.output.OutputFile;
import picocli.CommandLine.Option;

/** Options of every command that writes. */
final class OutputOptions {
    @Option(
            names = "--out",
            paramLabel = "FILE",
            description = "Write to this file or folder (default: standard output).")
    private Optional<String> out = Optional.empty();

    @Option(names = "--overwrite", description = "Replace files that exist.")
    private boolean overwrite;

    @Option(names = "--problems", paramLabel = "FILE", description = "Also write problems and notes to this CSV file.")
    private Optional<String> problems = Optional.empty();

    @Option(names = "--no-formula-guard", description = "Write texts that look like formulas as they are.")
    private boolean noFormulaGuard;

    @Option(names = "--quiet", description = "Say only what went wrong.")
    private boolean quiet;

    @Option(names = "--debug", description = "Show what a programmer needs when the program fails.")
    private boolean debug;

    /** The output file, refused before any work if it may not be written. */
    Optional<OutputFile> file() {
        return out.map(name -> OutputFile.at(name, overwrite));
    }

    /** The output file of a command that needs one. */
    OutputFile requiredFile(String example) {
        return file().orElseThrow(() ->
                new UsageError("--out is missing. Name the file to write, such as --out " + example + "."));
    }

    /** The name of the output folder of a command that needs one. */
    String requiredFolder(String example) {
        return out.orElseThrow(
                () -> new UsageError("--out is missing. Name the folder to write, such as --out " + example + "."));
    }

    Optional<OutputFile> problemsFile() {
        Optional<OutputFile> file = problems.map(name -> OutputFile.at(name, overwrite));
        file.ifPresent(f -> refuseAsOutAlso("--problems", f));
        return file;
    }

    /** The file of a further option, which may be neither that of {@code --out} nor of {@code --problems}: it would replace it. */
    OutputFile further(String option, String name) {
        OutputFile file = OutputFile.at(name, overwrite);
        refuseAsOutAlso(option, file);
        if (problems.map(OutputOptions::normal).filter(file.target()::equals).isPresent()) {
            throw new UsageError(option + " and --problems name the same file. Give each a file of its own.");
        }
        return file;
    }

    private void refuseAsOutAlso(String option, OutputFile file) {
        if (out.map(OutputOptions::normal).filter(file.target()::equals).isPresent()) {
            throw new UsageError(option + " and --out name the same file. Give each a file of its own.");
        }
    }

    private static Path normal(String name) {
        return Path.of(name).toAbsolutePath().normalize();
    }

    /** Whether the file's name asks for a workbook rather than CSV. */
    static boolean isWorkbook(OutputFile file) {
        return String.valueOf(file.target().getFileName())
                .toLowerCase(Locale.ROOT)
                .endsWith(".xlsx");
    }

    boolean overwrite() {
        return overwrite;
    }

    boolean guard() {
        return !noFormulaGuard;
    }

    boolean quiet() {
        return quiet;
    }
}
