package lumbrical.intake;

import java.io.IOException;
import java.io.OutputStream;
import java.io.UncheckedIOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.LocalDate;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.Set;
import java.util.function.Consumer;
import java.util.function.UnaryOperator;
import java.util.stream.Collectors;
import lumbrical.catalogue.Catalogue;
import lumbrical.instrument.Side;
import lumbrical.problem.Problem;
import lumbrical.sitting.Sitting;
import lumbrical.tabular.Input;
import lumbrical.tabular.ProgressListener;
import org.apache.poi.xssf.usermodel.XSSFWorkbook;

/** Response files read whole, in words. */
final class ReadTable {
    static final LocalDate AS_OF = LocalDate.of(2026, 11, 25);
    static final ReadOptions PLAIN = ReadOptions.asOf(AS_OF);
    static final Catalogue CATALOGUE = Catalogue.builtIn();

    final List<String> sittings = new ArrayList<>();
    final List<Problem> problems = new ArrayList<>();
    ReadSummary summary;

    private ReadTable(List<Path> files, ReadOptions options) {
        summary = ResponseReader.read(
                files.stream().map(f -> new Input(f, Optional.empty())).toList(),
                CATALOGUE,
                options,
                row -> sittings.add(words(row)),
                problems::add,
                ProgressListener.NONE);
    }

    /** The lines of one CSV file called {@code t.csv}. */
    static ReadTable lines(Path folder, ReadOptions options, String... lines) {
        return new ReadTable(List.of(write(folder, "t.csv", lines)), options);
    }

    static ReadTable lines(Path folder, String... lines) {
        return lines(folder, PLAIN, lines);
    }

    static ReadTable files(ReadOptions options, Path... files) {
        return new ReadTable(List.of(files), options);
    }

    static Path write(Path folder, String name, String... lines) {
        try {
            return Files.write(folder.resolve(name), List.of(lines), StandardCharsets.UTF_8);
        } catch (IOException e) {
            throw new UncheckedIOException(e);
        }
    }

    static Path book(Path folder, Consumer<XSSFWorkbook> content) {
        Path file = folder.resolve("t.xlsx");
        try (XSSFWorkbook book = new XSSFWorkbook();
                OutputStream out = Files.newOutputStream(file)) {
            content.accept(book);
            book.write(out);
        } catch (IOException e) {
            throw new UncheckedIOException(e);
        }
        return file;
    }

    /** Such as {@code t.csv row 2, column side [x] side-not-known}. */
    List<String> codes() {
        return problems.stream()
                .map(p -> p.place() + " [" + p.value() + "] " + p.code().code())
                .toList();
    }

    List<String> advices() {
        return problems.stream().map(Problem::advice).toList();
    }

    /** Such as {@code MAP_ANSWERS=x BLANK_TEXT=x}, a problem each. */
    List<String> remedies() {
        return problems.stream()
                .map(p -> p.remedies().stream()
                        .map(r -> r.kind() + (r.detail().isEmpty() ? "" : "=" + r.detail()))
                        .collect(Collectors.joining(" ")))
                .toList();
    }

    private static String words(SittingRow row) {
        Sitting s = row.sitting();
        String forms = row.forms().stream()
                .map(f -> f.responses().toString().replaceAll("@\\w+ ", " "))
                .collect(Collectors.joining(" "));
        return s.patient() + " " + s.completedOn()
                + s.time().map(t -> "T" + t).orElse("")
                + s.side().map(Side::code).map(c -> " " + c).orElse("")
                + s.episode().map(e -> " episode " + e).orElse("")
                + s.mode().map(m -> " mode " + m).orElse("")
                + s.respondent().map(r -> " by " + r).orElse("")
                + s.language().map(l -> " in " + l).orElse("") + ": " + forms;
    }

    static ReadOptions with(UnaryOperator<Options> changes) {
        return changes.apply(new Options()).build();
    }

    /** Options with a few parts other than by default. */
    static final class Options {
        private Set<String> notAnswered = Set.of();
        private boolean bad;
        private ColumnMap columns = ColumnMap.NONE;
        private CodeMap codes = CodeMap.NONE;
        private Optional<String> dateFormat = Optional.empty();
        private boolean decimalComma;
        private List<String> carry = List.of();

        Options notAnswered(String... tokens) {
            notAnswered = Set.of(tokens);
            return this;
        }

        Options badAsNotAnswered() {
            bad = true;
            return this;
        }

        Options columns(ColumnMap map) {
            columns = map;
            return this;
        }

        Options codes(CodeMap map) {
            codes = map;
            return this;
        }

        Options dates(String style) {
            dateFormat = Optional.of(style);
            return this;
        }

        Options decimalComma() {
            decimalComma = true;
            return this;
        }

        Options carry(String... names) {
            carry = List.of(names);
            return this;
        }

        private ReadOptions build() {
            return new ReadOptions(
                    AS_OF, notAnswered, bad, columns, codes, Optional.empty(), dateFormat, decimalComma, carry);
        }
    }
}
