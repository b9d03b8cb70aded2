package org.handoutcomes.command;

import java.io.IOException;
import java.nio.charset.Charset;
import java.nio.charset.IllegalCharsetNameException;
import java.nio.charset.UnsupportedCharsetException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Clock;
import java.time.DateTimeException;
import java.time.LocalDate;
import java.util.ArrayList;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Optional;
import org.handoutcomes.catalogue.Catalogue;
import org.handoutcomes.scoring.ScoringOptions;
import org.handoutcomes.table.CodeMap;
import org.handoutcomes.table.ColumnMap;
import org.handoutcomes.table.Input;
import org.handoutcomes.table.ReadOptions;
import picocli.CommandLine.Option;

/** Options of every command that reads responses. */
final class ReadingOptions {
    @Option(names = "--as-of", paramLabel = "DATE", description = "Look at things as of this day (default: today).")
    private Optional<String> asOf = Optional.empty();

    @Option(
            names = "--not-answered",
            paramLabel = "TOKENS",
            split = ",",
            description = "Texts that mean not answered, besides blank, separated by commas.")
    private List<String> notAnswered = new ArrayList<>();

    @Option(
            names = "--bad-responses",
            paramLabel = "refuse|not-answered",
            description =
                    "What a response that is not allowed does: its scale is not scored (default), or it counts as not"
                            + " answered. It is listed either way.")
    private String badResponses = "refuse";

    @Option(names = "--columns", paramLabel = "MAP.csv", description = "Your own headings: heading,column.")
    private Optional<String> columns = Optional.empty();

    @Option(names = "--codes", paramLabel = "CODES.csv", description = "Your own answer texts: column,text,code.")
    private Optional<String> codes = Optional.empty();

    @Option(names = "--sheet", paramLabel = "NAME", description = "Sheet of a workbook (default: the first).")
    private Optional<String> sheet = Optional.empty();

    @Option(names = "--encoding", paramLabel = "NAME", description = "Encoding of CSV files that are not Unicode.")
    private Optional<String> encoding = Optional.empty();

    @Option(
            names = "--date-format",
            paramLabel = "PATTERN",
            description = "Style of dates that are not ISO: dd.MM.yyyy.")
    private Optional<String> dateFormat = Optional.empty();

    @Option(names = "--decimal-comma", description = "Visual scales are written with a decimal comma.")
    private boolean decimalComma;

    @Option(names = "--definitions", paramLabel = "DIR", description = "A folder with instruments of your own.")
    private Optional<String> definitions = Optional.empty();

    @Option(names = "--complete-only", description = "Every missing-item rule is off: only complete forms are scored.")
    private boolean completeOnly;

    @Option(names = "--published-only", description = "Only rules seen in a published source are used.")
    private boolean publishedOnly;

    LocalDate asOf() {
        return day(asOf);
    }

    /** The day that {@code --as-of} names, else today. */
    static LocalDate day(Optional<String> asOf) {
        if (asOf.isEmpty()) {
            return LocalDate.now(Clock.systemDefaultZone()); // the one use of the clock
        }
        try {
            return LocalDate.parse(asOf.get());
        } catch (DateTimeException e) {
            throw new UsageError("--as-of " + asOf.get() + ": write the date as 2026-03-09.");
        }
    }

    boolean asOfGiven() {
        return asOf.isPresent();
    }

    Catalogue catalogue() {
        return catalogue(definitions);
    }

    /** The built-in instruments and those of a folder. */
    static Catalogue catalogue(Optional<String> definitions) {
        Catalogue builtIn = Catalogue.builtIn();
        if (definitions.isEmpty()) {
            return builtIn;
        }
        Path folder = Path.of(definitions.get());
        if (!Files.isDirectory(folder)) {
            throw new UsageError("--definitions " + definitions.get() + ": there is no such folder.");
        }
        try {
            return builtIn.with(folder);
        } catch (IOException e) {
            throw new UsageError("--definitions " + definitions.get() + ": a file in it cannot be read.");
        }
    }

    ScoringOptions scoring() {
        return new ScoringOptions(completeOnly, publishedOnly);
    }

    List<Input> inputs(List<String> files) {
        return files.stream().map(f -> Input.parse(f, sheet)).toList();
    }

    ReadOptions reading(List<String> carry) {
        if (!List.of("refuse", "not-answered").contains(badResponses)) {
            throw new UsageError("--bad-responses " + badResponses + ": write refuse or not-answered.");
        }
        return new ReadOptions(
                asOf(),
                new LinkedHashSet<>(notAnswered),
                badResponses.equals("not-answered"),
                columns.map(f -> ColumnMap.read(Input.parse(f, Optional.empty())))
                        .orElse(ColumnMap.NONE),
                codes.map(f -> CodeMap.read(Input.parse(f, Optional.empty()))).orElse(CodeMap.NONE),
                encoding.map(ReadingOptions::charset),
                dateFormat,
                decimalComma,
                carry);
    }

    private static Charset charset(String name) {
        try {
            return Charset.forName(name);
        } catch (IllegalCharsetNameException | UnsupportedCharsetException e) {
            throw new UsageError("--encoding " + name + ": not known. Use one such as windows-1252.");
        }
    }

    /** The options that shape content, in words, for the record. */
    List<String> shaping() {
        List<String> words = new ArrayList<>();
        if (completeOnly) {
            words.add("--complete-only");
        }
        if (publishedOnly) {
            words.add("--published-only");
        }
        if (badResponses.equals("not-answered")) {
            words.add("--bad-responses not-answered");
        }
        if (!notAnswered.isEmpty()) {
            words.add("--not-answered " + String.join(",", notAnswered));
        }
        columns.ifPresent(f -> words.add("--columns " + Path.of(f).getFileName()));
        codes.ifPresent(f -> words.add("--codes " + Path.of(f).getFileName()));
        definitions.ifPresent(f -> words.add("--definitions " + Path.of(f).getFileName()));
        sheet.ifPresent(s -> words.add("--sheet " + s));
        encoding.ifPresent(s -> words.add("--encoding " + s));
        dateFormat.ifPresent(s -> words.add("--date-format " + s));
        if (decimalComma) {
            words.add("--decimal-comma");
        }
        return words;
    }
}
