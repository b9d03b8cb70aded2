package lumbrical.questionnaire;

import com.fasterxml.jackson.core.JsonFactory;
import com.fasterxml.jackson.core.JsonFactoryBuilder;
import com.fasterxml.jackson.core.JsonParser;
import com.fasterxml.jackson.core.JsonProcessingException;
import com.fasterxml.jackson.core.JsonToken;
import com.fasterxml.jackson.core.StreamReadConstraints;
import com.fasterxml.jackson.core.StreamReadFeature;
import com.fasterxml.jackson.core.exc.StreamConstraintsException;
import com.fasterxml.jackson.core.io.JsonEOFException;
import java.io.BufferedInputStream;
import java.io.ByteArrayInputStream;
import java.io.CharConversionException;
import java.io.IOException;
import java.io.InputStream;
import java.nio.file.AccessDeniedException;
import java.nio.file.Files;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import java.util.zip.ZipException;
import lumbrical.tabular.Cells;
import lumbrical.tabular.CountedInput;
import lumbrical.tabular.Input;
import lumbrical.tabular.Limits;
import lumbrical.tabular.UnreadableInputException;

/**
 * A file of FHIR R4 resources in JSON: a Bundle, one resource, or one resource a line (NDJSON), packed by gzip or not. Its
 * QuestionnaireResponses are handed on one by one, so memory does not grow with them; other resources are passed over.
 *
 * <p>A file is one of lines if its name ends in {@code .ndjson} (or {@code .ndjson.gz}) or its first line holds a whole object and another
 * line follows. Of such a file a line that cannot be read is told and costs itself alone; any other file is refused as a whole.
 */
public final class FhirFile {
    /** Deepest nesting; an item in a group in a group lies about 14 levels deep. Ours. */
    static final int DEPTH = 80;
    /** Characters of the name of a member. Ours. */
    static final int NAME = 1_000;
    /** Characters of a number. Ours. */
    static final int NUMBER = 100;
    /** How many of the first bytes may be blank before the first brace. Ours. */
    private static final int BLANKS = 4_096;
    /** How many of the first bytes are looked at for the end of a first line. Ours. */
    private static final int FIRST_LINE = 1 << 20;
    /** How many lines are read between two words of how far it is. */
    private static final int BETWEEN = 256;

    private static final JsonFactory FACTORY = new JsonFactoryBuilder()
            .enable(StreamReadFeature.STRICT_DUPLICATE_DETECTION)
            .disable(JsonFactory.Feature.INTERN_FIELD_NAMES)
            .disable(StreamReadFeature.INCLUDE_SOURCE_IN_LOCATION)
            .streamReadConstraints(StreamReadConstraints.builder()
                    .maxNestingDepth(DEPTH)
                    .maxStringLength(Limits.CELL_CHARACTERS)
                    .maxNameLength(NAME)
                    .maxNumberLength(NUMBER)
                    .build())
            .build();

    private FhirFile() {}

    /** Whether a file begins as JSON does, packed or not, or has the name of such a file; whether it is good is told where it is read. */
    public static boolean isOne(Input input) {
        if (!Files.isRegularFile(input.path())) {
            return false;
        }
        String name = input.path().toString().toLowerCase(Locale.ROOT);
        if (name.endsWith(".json") || name.endsWith(".ndjson")) {
            return true;
        }
        try (InputStream in = Files.newInputStream(input.path())) {
            return isPacked(in.readNBytes(2)) || beginsAsObject(input);
        } catch (IOException e) {
            return false; // told where the file is read
        }
    }

    private static boolean isPacked(byte[] start) {
        return start.length >= 2 && (start[0] & 0xFF) == 0x1F && (start[1] & 0xFF) == 0x8B;
    }

    /** A brace and, after blanks, the quote of a name: no heading of a table begins so. */
    private static boolean beginsAsObject(Input input) throws IOException {
        try (InputStream in = Files.newInputStream(input.path())) {
            String start = new String(in.readNBytes(BLANKS), java.nio.charset.StandardCharsets.UTF_8);
            String text = Cells.clean(start);
            return text.startsWith("{") && Cells.clean(text.substring(1)).startsWith("\"");
        }
    }

    /**
     * Reads {@code input}.
     *
     * @throws UnreadableInputException if it cannot be read, is cut off, is no JSON, holds no FHIR resource, or exceeds a limit
     */
    public static void read(Input input, FhirFormSink sink) {
        try (InputStream file = new BufferedInputStream(Files.newInputStream(input.path()))) {
            CountedInput packed = new CountedInput(file, Files.size(input.path()), 0);
            boolean gzip = isPacked(start(file));
            try (InputStream plain = new BufferedInputStream(
                    gzip ? new InflationGuard(new GzipInput(packed, 1 << 16), packed) : packed, FIRST_LINE)) {
                refuseWideCharacters(plain);
                if (isOfLines(input, plain)) {
                    lines(input, new LineInput(plain), packed, sink);
                } else {
                    try (JsonParser json = FACTORY.createParser(plain)) {
                        resources(input, json, packed, sink);
                    }
                }
            }
        } catch (AccessDeniedException e) {
            throw new UnreadableInputException(
                    input.place(),
                    "the file may not be read. Close it in other programs, or ask for the right to read it.");
        } catch (IOException e) {
            throw new UnreadableInputException(input.place(), reason(e));
        }
    }

    private static byte[] start(InputStream file) throws IOException {
        return start(file, 2);
    }

    private static byte[] start(InputStream file, int bytes) throws IOException {
        file.mark(bytes);
        byte[] start = file.readNBytes(bytes);
        file.reset();
        return start;
    }

    /**
     * JSON begins with two characters below 128, so a zero among the first bytes is half of a character of UTF-16, or a quarter of one
     * of UTF-32. Source: RFC 4627, section 3; FHIR R4 takes UTF-8 alone.
     */
    private static void refuseWideCharacters(InputStream plain) throws IOException {
        byte[] start = start(plain, 4);
        if (start.length < 2) {
            return;
        }
        int first = start[0] & 0xFF;
        int second = start[1] & 0xFF;
        boolean mark = first == 0xFE && second == 0xFF || first == 0xFF && second == 0xFE;
        boolean oneIsZero = first == 0 ^ second == 0;
        boolean fourBytes =
                first == 0 && second == 0 && start.length == 4 && (start[2] != 0 || start[3] != 0); // else all are zero
        if (mark || oneIsZero || fourBytes) {
            throw new CharConversionException();
        }
    }

    private static boolean isOfLines(Input input, InputStream plain) throws IOException {
        String name = input.path().toString().toLowerCase(Locale.ROOT);
        if (name.endsWith(".ndjson") || name.endsWith(".ndjson.gz")) {
            return true;
        }
        plain.mark(FIRST_LINE);
        byte[] start = plain.readNBytes(FIRST_LINE - 1);
        plain.reset();
        LineInput lines = new LineInput(new ByteArrayInputStream(start));
        if (!lines.next()) {
            return false;
        }
        try (JsonParser json = FACTORY.createParser(lines)) {
            boolean whole = json.nextToken() == JsonToken.START_OBJECT;
            json.skipChildren();
            return whole && json.nextToken() == null && lines.next();
        } catch (JsonProcessingException e) {
            return false; // what is wrong is told where the file is read
        }
    }

    private static void lines(Input input, LineInput lines, CountedInput bytes, FhirFormSink sink) throws IOException {
        Optional<String> first = Optional.empty();
        long seen = 0;
        boolean read = false;
        while (lines.next()) {
            if (++seen % BETWEEN == 0) {
                sink.at(bytes.share());
            }
            Optional<String> fault = line(lines, bytes, sink);
            fault.ifPresent(why -> sink.notReadable(lines.number(), why));
            read |= fault.isEmpty();
            first = first.or(() -> fault.map(why -> "line " + lines.number() + ": " + why));
        }
        if (seen == 0) {
            throw new UnreadableInputException(input.place(), "the file is empty. Export it again.");
        }
        if (!read) {
            throw new UnreadableInputException(
                    input.place(),
                    "no line of the file can be read (" + first.orElse("")
                            + "). Export the forms as a Bundle, or as one resource a line.");
        }
        sink.at(1);
    }

    /**
     * A line: one resource. Its form is handed on when the line is known to be good to its end.
     *
     * @return what is wrong with it, if so
     * @throws IOException if the stream cannot be read, or some of a Bundle on one line has been handed on before it breaks
     */
    private static Optional<String> line(LineInput lines, CountedInput bytes, FhirFormSink sink) throws IOException {
        List<FhirForm> held = new ArrayList<>(1);
        try (JsonParser json = FACTORY.createParser(lines)) {
            ResourceReader[] reader = new ResourceReader[1];
            reader[0] = new ResourceReader(json, bytes, new FhirFormSink() {
                @Override
                public void form(FhirForm form) {
                    if (reader[0].sawEntries()) {
                        sink.form(form);
                    } else {
                        held.add(form);
                    }
                }

                @Override
                public void entryNotReadable(int entry, String why) {
                    sink.entryNotReadable(entry, why);
                }

                @Override
                public void morePages() {
                    sink.morePages();
                }
            });
            try {
                if (json.nextToken() != JsonToken.START_OBJECT) {
                    return Optional.of("it holds JSON that is no FHIR resource: a resource is an object in braces");
                }
                reader[0].atLine(lines.number());
                if (!reader[0].sawResource()) {
                    return Optional.of("it holds no FHIR resource: nothing in it has a resourceType");
                }
                if (json.nextToken() != null) {
                    return Optional.of("it holds more than one resource");
                }
            } catch (IOException e) {
                if (lines.failed() || reader[0].sawEntries()) {
                    throw e;
                }
                return Optional.of(ofLine(e));
            }
        }
        held.forEach(sink::form);
        return Optional.empty();
    }

    private static String ofLine(IOException e) {
        if (e instanceof TooMuchException much) {
            return "it holds " + much.what();
        }
        return fault(e, "the line") + character(e);
    }

    /** What is wrong with the JSON, without a word of its content. */
    private static String fault(IOException e, String what) {
        if (e instanceof JsonEOFException) {
            return what + " ends in the middle of a resource";
        }
        if (e instanceof StreamConstraintsException) {
            return "something in " + what + " is longer or nested deeper than any form needs";
        }
        boolean twice = e instanceof JsonProcessingException json
                && String.valueOf(json.getOriginalMessage()).startsWith("Duplicate field");
        return twice ? "an object of " + what + " holds one name twice" : what + " is no JSON";
    }

    /** Where on the line; unsaid if the parser has gone past its end, which a carriage return is to it. */
    private static String character(IOException e) {
        return e instanceof JsonProcessingException json
                ? Optional.ofNullable(json.getLocation())
                        .filter(l -> l.getLineNr() == 1 && l.getColumnNr() > 0)
                        .map(l -> " (character " + l.getColumnNr() + ")")
                        .orElse("")
                : "";
    }

    private static void resources(Input input, JsonParser json, CountedInput bytes, FhirFormSink sink)
            throws IOException {
        ResourceReader reader = new ResourceReader(json, bytes, sink);
        boolean any = false;
        for (JsonToken token = json.nextToken(); token != null; token = json.nextToken()) {
            any = true;
            if (token != JsonToken.START_OBJECT) {
                throw new UnreadableInputException(
                        input.place(),
                        "line " + json.currentTokenLocation().getLineNr()
                                + " holds JSON that is no FHIR resource: a resource is an object in braces. Export the forms as"
                                + " a Bundle, or as one resource a line.");
            }
            reader.atTop();
        }
        if (!any) {
            throw new UnreadableInputException(input.place(), "the file is empty. Export it again.");
        }
        if (!reader.sawResource()) {
            throw new UnreadableInputException(
                    input.place(),
                    "the file is JSON and holds no FHIR resource: nothing in it has a resourceType. Export the forms as a Bundle,"
                            + " or as one resource a line.");
        }
        sink.at(1);
    }

    /** What is wrong, without a word of the file's content. */
    private static String reason(IOException e) {
        if (e instanceof JsonProcessingException json) {
            return fault(e, "the file") + line(json) + ". Nothing of it is read."
                    + (e instanceof StreamConstraintsException ? "" : " Export it again.");
        }
        if (e instanceof TooMuchException) {
            return String.valueOf(e.getMessage());
        }
        if (e instanceof ZipException || e instanceof java.io.EOFException) {
            return "the packed file (gzip) is damaged or cut off. Copy it again.";
        }
        if (e instanceof CharConversionException) {
            return "the file is not in UTF-8, as FHIR asks for. Export it again.";
        }
        return "the file cannot be read ("
                + Cells.printable(
                        Optional.ofNullable(e.getMessage()).orElse(e.getClass().getSimpleName()))
                + ").";
    }

    private static String line(JsonProcessingException e) {
        return Optional.ofNullable(e.getLocation())
                .filter(l -> l.getLineNr() > 0)
                .map(l -> " (line " + l.getLineNr() + ", character " + l.getColumnNr() + ")")
                .orElse("");
    }
}
