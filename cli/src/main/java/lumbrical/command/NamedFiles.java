package lumbrical.command;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.InvalidPathException;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import lumbrical.tabular.Input;
import lumbrical.tabular.TableFile;
import lumbrical.tabular.UnreadableInputException;
import picocli.CommandLine.Model.OptionSpec;

/** The files that the words of a command name. */
final class NamedFiles {
    private NamedFiles() {}

    private record Named(CliOption word, Path path) {
        boolean isFileOf(Named other) {
            try {
                return path.equals(other.path)
                        || Files.exists(path) && Files.exists(other.path) && Files.isSameFile(path, other.path);
            } catch (IOException e) {
                return false; // what is wrong with it is said when it is used
            }
        }

        String option() {
            return word.spec() instanceof OptionSpec option ? option.longestName() : "";
        }
    }

    /**
     * Sees that no file is written twice, and none that is read: it would be lost.
     *
     * @throws UsageException if one is
     */
    static void refuseLoss(List<CliOption> words) {
        List<Named> read = named(words, CliOption.Use.READ);
        List<Named> written = named(words, CliOption.Use.WRITTEN);
        for (int i = 0; i < written.size(); i++) {
            Named file = written.get(i);
            for (Named before : written.subList(0, i)) {
                if (file.isFileOf(before)) {
                    throw new UsageException(file.option() + " and " + before.option()
                            + " name the same file. Give each a file of its own.");
                }
            }
            if (read.stream().anyMatch(file::isFileOf)) {
                throw new UsageException(file.option() + " names a file that is read and would be lost. Name another.");
            }
        }
    }

    /**
     * Sees that none of the files that an option's folder gets is read.
     *
     * @throws UsageException if one is
     */
    static void refuseLoss(List<CliOption> words, TextOption option, List<Path> written) {
        List<Named> read = named(words, CliOption.Use.READ);
        for (Path path : written) {
            Named file = new Named(option, path);
            if (read.stream().anyMatch(file::isFileOf)) {
                throw new UsageException(file.option() + " would write over " + path.getFileName()
                        + ", which is read. Name another folder.");
            }
        }
    }

    /** Whether a file to be read is a workbook. */
    static boolean readWorkbook(List<CliOption> words) {
        return named(words, CliOption.Use.READ).stream()
                .anyMatch(file -> TableFile.isWorkbook(Input.parse(file.path().toString(), Optional.empty())));
    }

    private static List<Named> named(List<CliOption> words, CliOption.Use use) {
        List<Named> files = new ArrayList<>();
        for (CliOption word : words) {
            if (word.use() == use) {
                word.values().forEach(value -> path(value, use).ifPresent(path -> files.add(new Named(word, path))));
            }
        }
        return files;
    }

    /** The file; empty where the text can be no file name, which is said when it is used. */
    private static Optional<Path> path(String value, CliOption.Use use) {
        try {
            Path path = use == CliOption.Use.READ
                    ? Input.parse(value, Optional.empty()).path()
                    : Path.of(value);
            return Optional.of(path.toAbsolutePath().normalize());
        } catch (InvalidPathException | UnreadableInputException e) {
            return Optional.empty();
        }
    }
}
