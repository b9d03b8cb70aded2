package lumbrical.deidentify;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import com.networknt.schema.InputFormat;
import com.networknt.schema.JsonSchema;
import com.networknt.schema.JsonSchemaFactory;
import com.networknt.schema.SpecVersion;
import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import java.util.Optional;
import java.util.Set;
import lumbrical.tabular.Input;
import lumbrical.tabular.UnreadableInputException;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;

class ProfileReaderTest {
    private static final Path DEMO = Path.of("..", "profiles", "demo-registry.json");

    @TempDir
    private Path folder;

    private static JsonSchema schema() throws IOException {
        return JsonSchemaFactory.getInstance(SpecVersion.VersionFlag.V202012)
                .getSchema(Files.readString(Path.of("..", "schema", "profile.schema.json")));
    }

    private String refusal(String profile) throws IOException {
        Path file = Files.writeString(folder.resolve("profile.json"), profile);
        return assertThrows(UnreadableInputException.class, () -> ProfileReader.read(new Input(file, Optional.empty())))
                .getMessage();
    }

    private static String profile(String columns) {
        return "{\"id\": \"x\", \"version\": \"1\", \"study\": \"X\", \"dates\": \"days-from-index\", \"columns\": ["
                + columns + "]}";
    }

    @Test
    void readsTheProfileOfTheDemoWhichKeepsToTheSchema() throws IOException {
        Profile profile = ProfileReader.read(new Input(DEMO, Optional.empty()));
        assertEquals("DEMO01", profile.study());
        assertEquals(
                List.of("female", "male"), profile.column("sex").orElseThrow().values());
        assertEquals(Set.of(), schema().validate(Files.readString(DEMO), InputFormat.JSON));
    }

    @ParameterizedTest
    @ValueSource(
            strings = {
                "name",
                "patient_name",
                "Family Name",
                "birth_date",
                "e-mail",
                "phone",
                "postcode",
                "record_number",
                "remarks",
                "free text",
                "surgeon"
            })
    void aColumnThatCanNameAPersonIsRefusedEvenWithListedValues(String column) throws IOException {
        String message = refusal(profile("{\"name\": \"" + column + "\", \"values\": [\"a\"]}"));
        assertTrue(message.contains("It may not leave; take it out of the profile."), message);
        assertTrue(message.startsWith("profile.json: the profile has 1 fault."), message);
    }

    @ParameterizedTest
    @ValueSource(strings = {"patient", "episode", "index_date", "completed_on", "birth_year", "closed_on"})
    void aColumnThatLeavesInAnotherFormIsRefused(String column) throws IOException {
        assertTrue(refusal(profile("{\"name\": \"" + column + "\"}")).contains("Take it out of the profile."));
    }

    @Test
    void freeTextNeedsAListOfValues() throws IOException {
        assertEquals(
                "profile.json: the profile has 1 fault." + System.lineSeparator()
                        + "  $.columns[0].values: 'condition' is free text: list the values that may leave.",
                refusal(profile("{\"name\": \"condition\"}")));
        assertEquals(
                1,
                schema().validate(profile("{\"name\": \"condition\"}"), InputFormat.JSON)
                        .size());
    }

    @Test
    void everyFaultIsToldAtOnce() throws IOException {
        String message =
                refusal("{\"id\": \"x\", \"study\": \"1 x\", \"dates\": \"weeks\", \"smallcell\": 3, \"columns\": []}");
        for (String part : List.of(
                "4 faults",
                "$.study: must be a letter and at most 19 letters, digits or hyphens.",
                "$.dates: 'weeks', but must be one of weeks-from-index, days-from-index, shifted.",
                "$.version: absent.",
                "$.smallcell: unknown key. Did you mean \"smallCell\"?")) {
            assertTrue(message.contains(part), message);
        }
    }

    @Test
    void whatIsNoJsonIsRefused() throws IOException {
        assertTrue(refusal("{").contains("this is no JSON"));
        assertTrue(refusal("").contains("this is no JSON"));
    }
}
