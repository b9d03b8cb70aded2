package lumbrical.fhir;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import com.fasterxml.jackson.databind.JsonNode;
import java.io.IOException;
import java.io.UncheckedIOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import java.util.Optional;
import java.util.stream.StreamSupport;
import lumbrical.catalogue.Catalogue;
import lumbrical.deidentify.Profile;
import lumbrical.deidentify.SendingLog;
import lumbrical.deidentify.SentRecords;
import lumbrical.sending.InventedClinic;
import lumbrical.sending.MemoryFiles;
import lumbrical.tabular.Input;
import lumbrical.tabular.UnreadableInputException;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

/** Codes that a user adds; the codes here are invented and stand for nothing. */
class ExternalCodesTest {
    private static final String LOINC = "http://loinc.org";
    private static final String SNOMED = "http://snomed.info/sct";

    @TempDir
    private Path folder;

    private ExternalCodes read(String rows) {
        try {
            Path file = Files.writeString(folder.resolve("codes.csv"), "our_code,system,code,display\n" + rows);
            return ExternalCodes.read(new Input(file, Optional.empty()), Catalogue.builtIn());
        } catch (IOException e) {
            throw new UncheckedIOException(e);
        }
    }

    @Test
    void aSystemIsNamedByItsShortNameOrItsAddress() {
        ExternalCodes codes = read(
                """
                nprs-rest,loinc,00000-0,
                nprs-rest,http://snomed.info/sct,1,Rest
                nprs_rest,snomed,2,
                nprs-rest-change,http://loinc.org,00000-1,
                nprs,loinc,00000-2,
                """);
        assertEquals(
                List.of(
                        new ExternalCodes.Code(LOINC, "00000-0", Optional.empty()),
                        new ExternalCodes.Code(SNOMED, "1", Optional.of("Rest"))),
                codes.of("nprs-rest"));
        assertEquals(List.of(new ExternalCodes.Code(SNOMED, "2", Optional.empty())), codes.of("nprs_rest"));
        assertEquals(LOINC, codes.of("nprs-rest-change").get(0).system());
        assertEquals(1, codes.of("nprs").size());
        assertEquals(List.of(), codes.of("nprs-worst"));
        assertEquals(List.of(), ExternalCodes.NONE.of("nprs"));
    }

    @ParameterizedTest(name = "{0}")
    @CsvSource(
            delimiter = '|',
            value = {
                "nprs-rset,loinc,0,  | row 2, column our_code: there is no such score, item or form.",
                "nprs_rset,loinc,0,  | row 2, column our_code: there is no such score, item or form.",
                "other-rest,loinc,0, | row 2, column our_code: there is no such score, item or form.",
                "other_rest,loinc,0, | row 2, column our_code: there is no such score, item or form.",
                "nprs-rest,icd,0,    | row 2, column system: the system is not known.",
                "nprs-rest,loinc,a b,| row 2, column code: this is no code.",
                "'nprs-rest,loinc,0,\nnprs-rest,http://loinc.org,1,' | row 3, column system: this score has a code of the system already."
            })
    void whatIsNotKnownIsRefusedWithItsPlace(String rows, String why) {
        UnreadableInputException refused = assertThrows(UnreadableInputException.class, () -> read(rows + "\n"));
        assertTrue(refused.getMessage().startsWith("codes.csv " + why), refused.getMessage());
    }

    private static List<String> codings(JsonNode codings) {
        return StreamSupport.stream(codings.spliterator(), false)
                .map(c -> c.path("system").asText() + " " + c.path("code").asText())
                .toList();
    }

    /** A map reaches scores, items and forms, and the version of the Questionnaire tells that it is another one. */
    @Test
    void codesReachScoresItemsAndForms() {
        ExternalCodes codes = read("nprs-rest,loinc,00000-0,\nnprs_rest,loinc,00000-1,\nnprs,snomed,2,\n");
        MemoryFiles files = new MemoryFiles();
        FhirFiles.write(
                InventedClinic.of(
                                folder,
                                "patient,episode,treated_side,index_date\nA,1,right,2025-01-10\n",
                                "patient,completed_on,side,nprs_rest\nA,2025-01-09,right,3\n")
                        .sent(Profile.DEFAULT),
                new FhirFiles.FhirSettings(true, codes),
                new SendingLog(SentRecords.NONE),
                files);
        JsonNode form = files.json("data/Questionnaire.ndjson");
        assertEquals(List.of(SNOMED + " 2"), codings(form.get("code")));
        assertEquals(List.of(LOINC + " 00000-1"), codings(form.at("/item/0/code")));
        assertTrue(
                form.get("version").asText().matches("1-[0-9a-f]{12}"),
                form.get("version").asText());
        assertEquals(
                form.get("url").asText() + "|" + form.get("version").asText(),
                files.json("data/QuestionnaireResponse.ndjson")
                        .get("questionnaire")
                        .asText());
        JsonNode score = files.json("data/Observation.ndjson");
        assertEquals(
                List.of("https://lumbrical.example/fhir/CodeSystem/nprs nprs-rest", LOINC + " 00000-0"),
                codings(score.at("/code/coding")));
    }
}
