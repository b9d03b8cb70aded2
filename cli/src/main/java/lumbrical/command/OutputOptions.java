package lumbrical.command;

import java.util.Locale;
import java.util.Optional;
import java.util.stream.Stream;
import lumbrical.output.OutputFile;

/** Options of every command that writes. */
final class OutputOptions {
    private final Word.Text out =
            Word.Text.written("--out", "FILE", "Write to this file or folder (default: standard output).");
    private final Word.Flag overwrite = Word.Flag.of("--overwrite", "Replace files that exist.");
    private final Word.Text problems =
            Word.Text.written("--problems", "FILE", "Also write problems and notes to this CSV file.");
    private final Word.Flag noFormulaGuard =
            Word.Flag.of("--no-formula-guard", "Write texts that look like formulas as they are.");
    private final Word.Flag quiet = Word.Flag.of("--quiet", "Say only what went wrong.");
    private final Word.Flag debug = Word.Flag.of("--debug", "Show what a programmer needs when the program fails.");

    Stream<Word> words() {
        return Stream.of(out, overwrite, problems, noFormulaGuard, quiet, debug);
    }

    /** The output file. */
    Optional<OutputFile> file() {
        return out.value().map(this::at);
    }

    /** The output file of a command that needs one. */
    OutputFile requiredFile(String example) {
        return file().orElseThrow(() ->
                new UsageException("--out is missing. Name the file to write, such as --out " + example + "."));
    }

    /** The name of the output folder of a command that needs one. */
    String requiredFolder(String example) {
        return out.value()
                .orElseThrow(() -> new UsageException(
                        "--out is missing. Name the folder to write, such as --out " + example + "."));
    }

    Optional<OutputFile> problemsFile() {
        return problems.value().map(this::at);
    }

    /** A file of that name, refused before any work if it may not be written. */
    OutputFile at(String name) {
        return OutputFile.at(name, overwrite.given());
    }

    /** Whether the file's name asks for a workbook rather than CSV. */
    static boolean isWorkbook(OutputFile file) {
        return String.valueOf(file.target().getFileName())
                .toLowerCase(Locale.ROOT)
                .endsWith(".xlsx");
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
