package lumbrical.command;

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
import java.util.Locale;
import java.util.Optional;
import java.util.Set;
import java.util.stream.Stream;
import lumbrical.catalogue.Catalogue;
import lumbrical.intake.CodeMap;
import lumbrical.intake.ColumnMap;
import lumbrical.intake.ReadOptions;
import lumbrical.scoring.ScoringOptions;
import lumbrical.tabular.Input;

/** Options of every command that reads responses. */
final class ReadingOptions {
    private static final String NOT_ANSWERED = "not-answered";
    private final TextOption asOf = TextOption.of("--as-of", "DATE", "Look at things as of this day (default: today).");
    private final ListOption notAnswered = ListOption.of(
            "--not-answered",
            "TOKENS",
            "Texts that stand for no answer (a blank cell always does), separated by commas: 99,n/a.");
    private final TextOption badResponses = TextOption.of(
            "--bad-responses",
            "refuse|not-answered",
            "What a response that is not allowed does: its scale is not scored (default), or it counts as not"
                    + " answered. It is listed either way.");
    private final TextOption columns =
            TextOption.read("--columns", "MAP.csv", "Your own headings, or linkIds of FHIR forms: heading,column.");
    private final TextOption codes =
            TextOption.read("--codes", "CODES.csv", "Your own answer texts: column,text,code.");
    private final TextOption sheet =
            TextOption.of("--sheet", "NAME", "Sheet of a workbook (default: the first that has the columns).");
    private final TextOption encoding =
            TextOption.of("--encoding", "NAME", "Encoding of CSV files that are not Unicode: windows-1252.");
    private final TextOption dateFormat =
            TextOption.of("--date-format", "PATTERN", "Style of dates that are not ISO: dd.MM.yyyy.");
    private final FlagOption decimalComma =
            FlagOption.of("--decimal-comma", "Numbers are written with a decimal comma: 12,5; 3,0 is 3.");
    private final TextOption definitions =
            TextOption.of("--definitions", "DIR", "A folder with instruments of your own.");
    private final ListOption versions = ListOption.of(
            "--definition", "ID@VERSION", "Read with an earlier version of an instrument (default: the newest).");
    private final FlagOption completeOnly =
            FlagOption.of("--complete-only", "Every missing-item rule is off: only complete forms are scored.");
    private final FlagOption publishedOnly =
            FlagOption.of("--published-only", "Only rules seen in a published source are used.");

    Stream<CliOption> options() {
        return Stream.of(
                asOf,
                notAnswered,
                badResponses,
                columns,
                codes,
                sheet,
                encoding,
                dateFormat,
                decimalComma,
                definitions,
                versions,
                completeOnly,
                publishedOnly);
    }

    LocalDate asOf() {
        return day(asOf.value());
    }

    /** The day that {@code --as-of} names, else today. */
    static LocalDate day(Optional<String> asOf) {
        if (asOf.isEmpty()) {
            return LocalDate.now(Clock.systemDefaultZone()); // the one use of the clock
        }
        try {
            return LocalDate.parse(asOf.get());
        } catch (DateTimeException e) {
            throw new UsageException("--as-of " + asOf.get() + ": write the date as 2026-03-09.");
        }
    }

    boolean asOfGiven() {
        return asOf.value().isPresent();
    }

    Catalogue catalogue() {
        return catalogue(definitions.value(), versions.values());
    }

    /** The built-in instruments and those of a folder, some in an earlier version. */
    static Catalogue catalogue(Optional<String> definitions, List<String> versions) {
        Catalogue catalogue = catalogue(definitions);
        for (String text : versions) {
            int at = text.indexOf('@');
            String id = text.substring(0, Math.max(at, 0)).strip().toLowerCase(Locale.ROOT);
            String version = text.substring(at + 1).strip();
            if (at < 0 || catalogue.find(id, version).isEmpty()) {
                throw new UsageException("--definition " + text + ": there is no such definition. "
                        + (at < 0 || catalogue.versions(id).isEmpty()
                                ? "Write an instrument's id, @ and a version, such as <id>@1."
                                : "Versions of " + id + " are " + String.join(", ", catalogue.versions(id)) + "."));
            }
            catalogue = catalogue.reading(id, version);
        }
        return catalogue;
    }

    /** The built-in instruments and those of a folder. */
    static Catalogue catalogue(Optional<String> definitions) {
        Catalogue builtIn = Catalogue.builtIn();
        if (definitions.isEmpty()) {
            return builtIn;
        }
        Path folder = Path.of(definitions.get());
        if (!Files.isDirectory(folder)) {
            throw new UsageException("--definitions " + definitions.get() + ": there is no such folder.");
        }
        try {
            return builtIn.with(folder);
        } catch (IOException e) {
            throw new UsageException("--definitions " + definitions.get() + ": a file in it cannot be read.");
        }
    }

    ScoringOptions scoring() {
        return new ScoringOptions(completeOnly.given(), publishedOnly.given());
    }

    List<Input> inputs(List<String> files) {
        return files.stream().map(f -> Input.parse(f, sheet.value())).toList();
    }

    ReadOptions readOptions(List<String> carry) {
        badResponses
                .value()
                .filter(word -> !List.of("refuse", NOT_ANSWERED).contains(word))
                .ifPresent(word -> {
                    throw new UsageException("--bad-responses " + word + ": write refuse or not-answered.");
                });
        return new ReadOptions(
                asOf(),
                notAnswered(),
                badResponsesCountAsNotAnswered(),
                columns.value()
                        .map(f -> ColumnMap.read(Input.parse(f, Optional.empty()), charset()))
                        .orElse(ColumnMap.NONE),
                codes.value()
                        .map(f -> CodeMap.read(Input.parse(f, Optional.empty()), charset(), catalogue(), notAnswered()))
                        .orElse(CodeMap.NONE),
                charset(),
                dateFormat.value(),
                decimalComma.given(),
                carry);
    }

    /** The encoding of files that are not Unicode. */
    Optional<Charset> charset() {
        return encoding.value().map(ReadingOptions::charset);
    }

    /** Texts that stand for no answer, without the quotes that some command lines leave around them. */
    private Set<String> notAnswered() {
        Set<String> texts = new LinkedHashSet<>();
        List<String> given = notAnswered.values();
        for (int i = 0; i < given.size(); i++) {
            String text = given.get(i).strip();
            boolean quoted = text.length() > 1 && text.startsWith("'") && text.endsWith("'");
            boolean together = given.size() > 1
                    && given.get(0).startsWith("'")
                    && given.get(given.size() - 1).endsWith("'");
            int from = quoted || together && i == 0 ? 1 : 0;
            int to = text.length() - (quoted || together && i == given.size() - 1 ? 1 : 0);
            texts.add(text.substring(Math.min(from, to), to).strip());
        }
        texts.remove("");
        return texts;
    }

    private boolean badResponsesCountAsNotAnswered() {
        return badResponses.value().equals(Optional.of(NOT_ANSWERED));
    }

    private static Charset charset(String name) {
        try {
            return Charset.forName(name);
        } catch (IllegalCharsetNameException | UnsupportedCharsetException e) {
            throw new UsageException("--encoding " + name + ": not known. Use one such as windows-1252.");
        }
    }

    /** The options that shape content, in words, for the record. */
    List<String> contentOptions() {
        List<String> words = new ArrayList<>();
        if (completeOnly.given()) {
            words.add("--complete-only");
        }
        if (publishedOnly.given()) {
            words.add("--published-only");
        }
        if (badResponsesCountAsNotAnswered()) {
            words.add("--bad-responses " + NOT_ANSWERED);
        }
        if (!notAnswered().isEmpty()) {
            words.add("--not-answered " + String.join(",", notAnswered()));
        }
        columns.value().ifPresent(f -> words.add("--columns " + Path.of(f).getFileName()));
        codes.value().ifPresent(f -> words.add("--codes " + Path.of(f).getFileName()));
        versions.values().forEach(v -> words.add("--definition " + v));
        definitions
                .value()
                .ifPresent(f -> words.add("--definitions " + Path.of(f).getFileName()));
        sheet.value().ifPresent(s -> words.add("--sheet " + s));
        encoding.value().ifPresent(s -> words.add("--encoding " + s));
        dateFormat.value().ifPresent(s -> words.add("--date-format " + s));
        if (decimalComma.given()) {
            words.add("--decimal-comma");
        }
        return words;
    }
}
