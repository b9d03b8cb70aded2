package lumbrical.catalogue;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import com.networknt.schema.InputFormat;
import com.networknt.schema.JsonSchema;
import com.networknt.schema.JsonSchemaFactory;
import com.networknt.schema.SpecVersion;
import com.networknt.schema.ValidationMessage;
import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import java.util.Set;
import java.util.stream.Stream;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.MethodSource;

/** Every definition keeps to the published JSON Schema (2020-12), by a validator that is not ours. */
class DefinitionSchemaTest {
    private static final JsonSchema SCHEMA = schema();

    private static JsonSchema schema() {
        try {
            return JsonSchemaFactory.getInstance(SpecVersion.VersionFlag.V202012)
                    .getSchema(Files.readString(Path.of("..", "shared", "schema", "instrument.schema.json")));
        } catch (IOException e) {
            throw new java.io.UncheckedIOException(e);
        }
    }

    static List<Path> definitions() throws IOException {
        try (Stream<Path> files = Files.list(Path.of("definitions"))) {
            return files.filter(f -> f.toString().endsWith(".json")).sorted().toList();
        }
    }

    @Test
    void thereAreDefinitions() throws IOException {
        assertTrue(definitions().size() >= 28, "only " + definitions().size() + " definitions");
    }

    @ParameterizedTest
    @MethodSource("definitions")
    void everyDefinitionIsValid(Path file) throws IOException {
        Set<ValidationMessage> messages = SCHEMA.validate(Files.readString(file), InputFormat.JSON);
        assertEquals(Set.of(), messages);
    }

    @Test
    void theSchemaRefusesWhatTheLoaderRefuses() throws IOException {
        String prwe = Files.readString(Path.of("definitions", "prwe.json"));
        for (String broken : List.of(
                prwe.replace("\"measures\"", "\"measurs\""),
                prwe.replace("\"answeredFor\": \"treated-side\"", "\"answeredFor\": \"wrist\""),
                prwe.replaceFirst("\"kind\": \"sum\"", "\"kind\": \"total\""))) {
            assertFalse(SCHEMA.validate(broken, InputFormat.JSON).isEmpty());
            assertFalse(faults(broken).isEmpty());
        }
    }

    private static List<String> faults(String json) {
        try {
            DefinitionReader.read("broken.json", json.getBytes(java.nio.charset.StandardCharsets.UTF_8));
            return List.of();
        } catch (DefinitionFaultsException e) {
            return e.faults();
        }
    }
}
