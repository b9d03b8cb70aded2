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
import java.io.IOException;
import java.io.InputStream;
import java.nio.file.AccessDeniedException;
import java.nio.file.Files;
import java.util.Locale;
import java.util.Optional;
import java.util.zip.GZIPInputStream;
import java.util.zip.ZipException;
import lumbrical.tabular.Cells;
import lumbrical.tabular.CountedInput;
import lumbrical.tabular.Input;
import lumbrical.tabular.Limits;
import lumbrical.tabular.UnreadableInputException;

/**
 * A file of FHIR R4 resources in JSON: a Bundle, one resource, or one resource a line (NDJSON), packed by gzip or not. Its
 * QuestionnaireResponses are handed on one by one, so memory does not grow with them; other resources are passed over.
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
            try (InputStream plain = gzip ? new InflationGuard(new GZIPInputStream(packed, 1 << 16), packed) : packed;
                    JsonParser json = FACTORY.createParser(plain)) {
                resources(input, json, packed, sink);
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
        file.mark(2);
        byte[] start = file.readNBytes(2);
        file.reset();
        return start;
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
        String again = " Nothing of it is read. Export it again.";
        if (e instanceof JsonEOFException) {
            return "the file ends in the middle of a resource" + line((JsonProcessingException) e) + "." + again;
        }
        if (e instanceof StreamConstraintsException) {
            return "something in the file is longer or nested deeper than any form needs"
                    + line((JsonProcessingException) e) + ". Nothing of it is read.";
        }
        if (e instanceof JsonProcessingException json) {
            boolean twice = String.valueOf(json.getOriginalMessage()).startsWith("Duplicate field");
            return (twice ? "an object of the file holds one name twice" : "the file is no JSON") + line(json) + "."
                    + again;
        }
        if (e instanceof TooMuchException) {
            return String.valueOf(e.getMessage());
        }
        if (e instanceof ZipException || e instanceof java.io.EOFException) {
            return "the packed file (gzip) is damaged or cut off. Copy it again.";
        }
        if (e instanceof java.io.CharConversionException) {
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
