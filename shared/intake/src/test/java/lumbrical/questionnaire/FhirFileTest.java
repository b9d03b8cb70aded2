package lumbrical.questionnaire;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.ByteArrayOutputStream;
import java.io.IOException;
import java.io.OutputStream;
import java.io.UncheckedIOException;
import java.nio.charset.Charset;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.Optional;
import java.util.zip.GZIPOutputStream;
import lumbrical.tabular.Input;
import lumbrical.tabular.UnreadableInputException;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.ValueSource;

/**
 * Files of FHIR R4 (4.0.1) forms, invented: what of a QuestionnaireResponse is taken, and files made to do harm. Element names and kinds
 * are those of the standard.
 */
class FhirFileTest {
    private static final String HEAD = "{\"resourceType\":\"QuestionnaireResponse\",\"status\":\"completed\","
            + "\"authored\":\"2026-03-01\",\"subject\":{\"reference\":\"Patient/A\"},"
            + "\"questionnaire\":\"https://lumbrical.example/fhir/Questionnaire/nprs|1\",";
    private static final String GOOD = HEAD + "\"item\":[{\"linkId\":\"rest\",\"answer\":[{\"valueInteger\":3}]}]}";

    @TempDir
    private Path folder;

    /** What a file gives. */
    private static final class Taken implements FhirFormSink {
        private final List<FhirForm> forms = new ArrayList<>();
        private final List<Double> shares = new ArrayList<>();
        private int pages;

        @Override
        public void form(FhirForm form) {
            forms.add(form);
        }

        @Override
        public void at(double share) {
            shares.add(share);
        }

        @Override
        public void morePages() {
            pages++;
        }
    }

    private Input input(String name, byte[] bytes) {
        try {
            return new Input(Files.write(folder.resolve(name), bytes), Optional.empty());
        } catch (IOException e) {
            throw new UncheckedIOException(e);
        }
    }

    private Taken read(String name, byte[] bytes) {
        Taken taken = new Taken();
        FhirFile.read(input(name, bytes), taken);
        return taken;
    }

    private Taken read(String text) {
        return read("forms.json", text.getBytes(StandardCharsets.UTF_8));
    }

    private FhirForm form(String members) {
        return read("{\"resourceType\":\"QuestionnaireResponse\"" + (members.isEmpty() ? "" : ",") + members + "}")
                .forms
                .get(0);
    }

    private List<String> answers(String items) {
        return form("\"item\":[" + items + "]").answers().stream()
                .map(a -> a.linkId() + "=" + a.text())
                .toList();
    }

    private String refusal(String name, byte[] bytes) {
        UnreadableInputException refused = assertThrows(UnreadableInputException.class, () -> read(name, bytes), name);
        assertTrue(refused.getMessage().startsWith(name + ": "), refused.getMessage());
        return refused.getMessage().substring(name.length() + 2);
    }

    private String refusal(String text) {
        return refusal("forms.json", text.getBytes(StandardCharsets.UTF_8));
    }

    private static byte[] packed(byte[] plain) {
        ByteArrayOutputStream bytes = new ByteArrayOutputStream();
        try (OutputStream out = new GZIPOutputStream(bytes)) {
            out.write(plain);
        } catch (IOException e) {
            throw new UncheckedIOException(e);
        }
        return bytes.toByteArray();
    }

    // ---- a form

    @Test
    void everythingOfAFormIsTakenInAnyOrder() {
        FhirForm form =
                read("""
                        {"item":[{"answer":[{"valueInteger":3}],"linkId":"rest"}],
                         "extension":[
                          {"valueReference":{"reference":"EpisodeOfCare/E1"},
                           "url":"http://hl7.org/fhir/StructureDefinition/workflow-episodeOfCare"},
                          {"url":"http://hl7.org/fhir/StructureDefinition/questionnaireresponse-completionMode",
                           "valueCodeableConcept":{"coding":[{"system":"x","code":"WRITTEN"}],"text":"paper"}},
                          {"url":"https://lumbrical.example/fhir/StructureDefinition/attribute","extension":[
                           {"url":"name","valueString":"side"},{"url":"value","valueString":"left"}]},
                          {"url":"https://other.example/thing","valueString":"x"}],
                         "source":{"reference":"RelatedPerson/1","display":"Somebody"},
                         "language":"de","authored":"2026-03-01T10:00:00+01:00","status":"amended",
                         "subject":{"display":"Somebody","reference":"https://s.example/fhir/Patient/A/_history/2"},
                         "identifier":{"use":"official","value":"K1","system":"urn:s"},
                         "questionnaire":"https://q.example/Q|2","resourceType":"QuestionnaireResponse"}
                        """)
                        .forms
                        .get(0);
        assertEquals(
                new FhirForm(
                        1,
                        Optional.of("https://q.example/Q|2"),
                        "amended",
                        Optional.of("2026-03-01T10:00:00+01:00"),
                        Optional.of(new FhirForm.Identifier("urn:s", "K1")),
                        Optional.of("A"),
                        Optional.of("E1"),
                        Optional.of("left"),
                        Optional.of("paper"),
                        Optional.of("proxy"),
                        Optional.of("de"),
                        List.of(new FhirForm.Answer("rest", "3")),
                        Optional.empty()),
                form);
    }

    @Test
    void whatIsNotThereIsEmpty() {
        FhirForm bare = form("");
        assertEquals("", bare.status());
        assertEquals(
                List.of(),
                java.util.stream.Stream.of(
                                bare.questionnaire(),
                                bare.authored(),
                                bare.identifier(),
                                bare.patient(),
                                bare.episode(),
                                bare.side(),
                                bare.mode(),
                                bare.respondent(),
                                bare.language(),
                                bare.fault())
                        .flatMap(Optional::stream)
                        .toList());
        FhirForm nothing =
                form("\"questionnaire\":null,\"status\":null,\"identifier\":null,\"subject\":null,\"source\":null,"
                        + "\"extension\":null,\"item\":null,\"authored\":\" \"");
        assertEquals(bare, nothing);
    }

    /** R4, Reference: relative, absolute, versioned, conditional, logical, and into the resource itself. */
    @ParameterizedTest(name = "{0}: {1}")
    @CsvSource(
            delimiter = '|',
            value = {
                "{\"reference\":\"Patient/A\"} | A",
                "{\"reference\":\"https://s.example/fhir/Patient/A\"} | A",
                "{\"reference\":\"Patient/A/_history/3\"} | A",
                "{\"reference\":\"urn:uuid:0c3151bd\"} | 0c3151bd",
                "{\"reference\":\"Patient?identifier=urn:s%7CA\"} | A",
                "{\"reference\":\"Patient?active=true&identifier=A\"} | A",
                "{\"reference\":\"Patient?identifier=100%\"} | 100%",
                "{\"reference\":\"Patient?name=A\"} |",
                "{\"reference\":\"Patient?identifier=urn:s%7C\"} |",
                "{\"reference\":\"#p\"} |",
                "{\"reference\":\"Patient/\"} |",
                "{\"reference\":\"Group/A\"} |",
                "{\"reference\":\"A\"} | A",
                "{\"reference\":\"A\",\"type\":\"Patient\"} | A",
                "{\"reference\":\"A\",\"type\":\"Device\"} |",
                "{\"reference\":\"Patient/A\",\"identifier\":{\"value\":\"B\"}} | B",
                "{\"identifier\":{\"system\":\"urn:s\"}} |",
                "{\"identifier\":null,\"display\":\"Somebody\"} |"
            })
    void aPatientIsKnownByIdentifierOrReference(String subject, String id) {
        assertEquals(Optional.ofNullable(id), form("\"subject\":" + subject).patient());
    }

    @ParameterizedTest(name = "{0}: {1}")
    @CsvSource(
            delimiter = '|',
            value = {
                "{\"reference\":\"Patient/A\"} | self",
                "{\"reference\":\"RelatedPerson/A\"} | proxy",
                "{\"type\":\"RelatedPerson\",\"display\":\"Somebody\"} | proxy",
                "{\"reference\":\"Practitioner/A\"} |",
                "{\"display\":\"Somebody\"} |"
            })
    void whoAnsweredIsThePersonOrAnother(String source, String respondent) {
        assertEquals(
                Optional.ofNullable(respondent), form("\"source\":" + source).respondent());
    }

    @Test
    void theCodeOfAModeStandsInForItsText() {
        String mode =
                "\"extension\":[{\"url\":\"http://hl7.org/fhir/StructureDefinition/questionnaireresponse-completionMode\","
                        + "\"valueCodeableConcept\":%s}]";
        assertEquals(
                Optional.of("VERBAL"),
                form(mode.formatted("{\"coding\":[{\"code\":\"VERBAL\"}]}")).mode());
        assertEquals(Optional.empty(), form(mode.formatted("{\"id\":\"x\"}")).mode());
        String attribute = "\"extension\":[{\"url\":\"https://lumbrical.example/fhir/StructureDefinition/attribute\","
                + "\"extension\":[{\"id\":\"1\",\"url\":\"name\",\"valueString\":\"%s\"},{\"url\":\"value\",\"valueString\":\"x\"}]}]";
        assertEquals(Optional.of("x"), form(attribute.formatted("side")).side());
        assertEquals(Optional.empty(), form(attribute.formatted("ward")).side());
    }

    // ---- answers

    private static String item(String answer) {
        return "{\"linkId\":\"a\",\"answer\":[" + answer + "]}";
    }

    private static final String WEIGHTED =
            "{\"valueCoding\":{\"code\":\"%s\",\"extension\":[{\"url\":\"%s\",\"valueDecimal\":%s}]}}";

    /** An answer is a number or a code; a unit stays with its number, since no item allows one. UCUM: {score} and 1 are no units. */
    @ParameterizedTest(name = "{0}: {1}")
    @CsvSource(
            delimiter = '|',
            value = {
                "{\"valueInteger\":3} | 3",
                "{\"valueDecimal\":3.50} | 3.50",
                "{\"valueDecimal\":4e0} | 4",
                "{\"valueDecimal\":25E-1} | 2.5",
                "{\"valueDecimal\":1e400} | 1e400",
                "{\"valueBoolean\":true} | true",
                "{\"valueString\":\"three\"} | three",
                "{\"valueCoding\":{\"code\":\"3\",\"display\":\"some\"}} | 3",
                "{\"valueCoding\":{\"code\":3}} | 3",
                "{\"valueCoding\":{\"display\":\"some\"}} | some",
                "{\"valueQuantity\":{\"value\":3}} | 3",
                "{\"valueQuantity\":{\"value\":\"3\"}} | 3",
                "{\"valueQuantity\":{\"value\":3,\"unit\":\"points\",\"code\":\"{score}\"}} | 3",
                "{\"valueQuantity\":{\"value\":3,\"unit\":\"cm\"}} | 3 cm",
                "{\"valueQuantity\":{\"value\":3,\"unit\":\"score\",\"code\":\"mm\",\"system\":\"x\"}} | 3 mm",
                "{\"valueQuantity\":{\"value\":3,\"comparator\":\"<\"}} | < 3",
                "{\"valueQuantity\":{\"comparator\":\">=\",\"value\":3,\"unit\":\"cm\"}} | >= 3 cm",
                "{\"valueQuantity\":{\"system\":\"x\"}} | (valueQuantity)",
                "{\"valueCoding\":{\"system\":\"x\"}} | (valueCoding)",
                "{\"valueCoding\":3} | (valueCoding)",
                "{\"valueScore\":3} | (valueScore)",
                "{\"valueScore\":\"3\"} | (valueScore)",
                "{\"value\":3} | (value)",
                "{\"valueAttachment\":{\"data\":\"QUJD\"}} | (valueAttachment)"
            })
    void anAnswerIsTakenAsWritten(String answer, String text) {
        assertEquals(List.of("a=" + text), answers(item(answer)));
    }

    /** R4 names the weight ordinalValue; later versions of SDC itemWeight. It stands in for a code that is no number. */
    @ParameterizedTest(name = "{0} {1}: {2}")
    @CsvSource({
        "LA-9, http://hl7.org/fhir/StructureDefinition/ordinalValue, 3",
        "LA-9, http://hl7.org/fhir/StructureDefinition/itemWeight, 3",
        "LA-9, http://hl7.org/fhir/uv/sdc/StructureDefinition/itemWeight, 3",
        "LA-9, https://other.example/weight, LA-9",
        "5, http://hl7.org/fhir/StructureDefinition/ordinalValue, 5"
    })
    void aWeightStandsInForACode(String code, String url, String text) {
        assertEquals(List.of("a=" + text), answers(item(WEIGHTED.formatted(code, url, "3"))));
    }

    @Test
    void aWeightThatIsNoNumberIsNone() {
        String url = "http://hl7.org/fhir/StructureDefinition/ordinalValue";
        assertEquals(List.of("a=LA-9"), answers(item(WEIGHTED.formatted("LA-9", url, "\"3\""))));
    }

    @Test
    void severalAnswersStandBesideEachOther() {
        assertEquals(List.of("a=1, 2"), answers(item("{\"valueInteger\":1},{\"valueInteger\":2}")));
        assertEquals(List.of("a=1, 2"), answers(item("{\"valueInteger\":1}") + "," + item("{\"valueInteger\":2}")));
        assertEquals(List.of(), answers(item("{\"valueString\":\" \"}") + "," + item("{\"valueInteger\":null}")));
        assertEquals(List.of(), answers(item("") + ",{\"linkId\":\"b\"}"));
    }

    /** FHIR R4 (4.0.1) allows one value[x] an answer: of two neither is chosen, whatever their order. */
    @Test
    void twoValuesOfAnAnswerStandBesideEachOther() {
        assertEquals(List.of("a=3, 5"), answers(item("{\"valueInteger\":3,\"valueString\":\"5\"}")));
        assertEquals(List.of("a=5, 3"), answers(item("{\"valueString\":\"5\",\"valueInteger\":3}")));
        assertEquals(List.of("a=3, 3"), answers(item("{\"valueInteger\":3,\"valueDecimal\":3}")));
        assertEquals(
                List.of("a=(valueScore), 3"),
                answers(item("{\"valueScore\":{\"x\":1},\"id\":\"x\",\"valueInteger\":3}")));
        assertEquals(List.of("a=3, (valueString)"), answers(item("{\"valueInteger\":3,\"valueString\":\"\"}")));
        assertEquals(List.of("a=3"), answers(item("{\"valueInteger\":3,\"valueString\":null}")));
        assertEquals(List.of(), answers(item("{}")), "no value is no answer");
        assertEquals(List.of(), answers(item("{\"id\":\"x\",\"_valueInteger\":{\"id\":\"y\"}}")));
    }

    @Test
    void itemsOfGroupsAndOfAnswersAreTaken() {
        String inner = "{\"linkId\":\"b\",\"answer\":[{\"valueInteger\":2}]}";
        assertEquals(
                List.of("b=2"), answers("{\"linkId\":\"g\",\"item\":[{\"linkId\":\"h\",\"item\":[" + inner + "]}]}"));
        assertEquals(
                List.of("b=2", "a=1"), answers(item("{\"valueInteger\":1,\"id\":\"x\",\"item\":[" + inner + "]}")));
    }

    @Test
    void anItemMarkedAsWronglyAnsweredIsNotUnanswered() {
        String marked =
                "{\"linkId\":\"a\",\"extension\":[{\"id\":\"x\",\"url\":\"http://hl7.org/fhir/StructureDefinition/"
                        + "data-absent-reason\",\"valueCode\":\"%s\"}]%s}";
        assertEquals(List.of("a=error"), answers(marked.formatted("error", "")));
        assertEquals(List.of(), answers(marked.formatted("asked-declined", "")));
        assertEquals(List.of(), answers(marked.formatted("error", "").replace("data-absent-reason", "other-reason")));
        assertEquals(List.of("a=1"), answers(marked.formatted("error", ",\"answer\":[{\"valueInteger\":1}]")));
    }

    /** What is wrong in one form costs that form; the next is read. */
    @ParameterizedTest(name = "{1}")
    @CsvSource(
            delimiter = '|',
            value = {
                "\"item\":[5] | an element of item is not an object",
                "\"item\":{\"linkId\":\"rest\"} | item is not a list",
                "\"item\":[{\"linkId\":\"a\",\"answer\":{\"valueInteger\":3}}] | answer is not a list",
                "\"item\":[{\"linkId\":7}] | linkId is not a text",
                "\"item\":[{\"answer\":[{\"valueInteger\":3}]}] | the linkId of an item is not there",
                "\"item\":[{\"linkId\":\"a\",\"answer\":[{\"valueInteger\":[3]}]}] | valueInteger is not one value",
                "\"identifier\":[{\"value\":\"x\"}] | identifier is not an object",
                "\"identifier\":{\"value\":5} | identifier.value is not a text",
                "\"subject\":\"Patient/A\" | subject is not an object",
                "\"subject\":{\"identifier\":\"A\"} | subject.identifier is not an object",
                "\"source\":[] | source is not an object",
                "\"authored\":20260301 | authored is not a text",
                "\"status\":{} | status is not a text",
                "\"extension\":{} | extension is not a list",
                "\"extension\":[null] | an element of extension is not an object"
            })
    void aFormOfWrongKindsIsMarkedAndTheNextIsRead(String members, String fault) {
        String bad = "{\"resourceType\":\"QuestionnaireResponse\"," + members + "}";
        List<FhirForm> forms = read(bad + "\n" + GOOD).forms;
        assertEquals(Optional.of(fault), forms.get(0).fault());
        assertEquals(Optional.empty(), forms.get(1).fault());
        assertEquals(2, forms.get(1).number(), "its line");
    }

    // ---- a file

    @Test
    void formsOfABundleAreCountedByTheirEntries() {
        Taken taken = read("{\"link\":[5,{\"relation\":\"self\"},{\"url\":\"x\",\"relation\":\"next\"}],\"entry\":["
                + "7,{\"fullUrl\":\"x\",\"resource\":{\"resourceType\":\"Patient\",\"item\":5}},{\"resource\":" + GOOD
                + "},{\"response\":{}}],\"total\":4,\"resourceType\":\"Bundle\"}");
        assertEquals(List.of(3), taken.forms.stream().map(FhirForm::number).toList());
        assertEquals(
                List.of("rest"),
                taken.forms.get(0).answers().stream()
                        .map(FhirForm.Answer::linkId)
                        .toList());
        assertEquals(0, taken.pages, "before anything tells that it is a bundle");
        String next = "\"link\":[{\"relation\":\"next\"}]";
        assertEquals(1, read("{\"resourceType\":\"Bundle\"," + next + "}").pages);
        assertEquals(1, read("{\"entry\":[]," + next + ",\"resourceType\":\"Bundle\"}").pages);
        assertEquals(0, read("{\"resourceType\":\"QuestionnaireResponse\"," + next + "}").pages);
    }

    @Test
    void howFarItIsIsToldNowAndThenAndAtTheEnd() {
        Taken taken = read("forms.ndjson", (GOOD + "\n").repeat(600).getBytes(StandardCharsets.UTF_8));
        assertEquals(600, taken.forms.size());
        assertEquals(3, taken.shares.size(), "each 256th form, and the end");
        assertTrue(taken.shares.get(0) > 0 && taken.shares.get(0) <= taken.shares.get(1));
        assertEquals(1.0, taken.shares.get(2));
    }

    @Test
    void aPackedFileIsReadWhateverItsName() {
        byte[] lines = (GOOD + "\n" + GOOD.replace(":3}", ":4}") + "\n").getBytes(StandardCharsets.UTF_8);
        assertEquals(read("forms.ndjson", lines).forms, read("forms.bin", packed(lines)).forms);
    }

    @Test
    void aFileOfFormsIsKnownByItsNameOrItsBeginning() {
        byte[] csv = "patient,completed_on\n".getBytes(StandardCharsets.UTF_8);
        assertTrue(FhirFile.isOne(input("a.JSON", csv)));
        assertTrue(FhirFile.isOne(input("a.ndjson", csv)));
        assertTrue(FhirFile.isOne(input("a.txt", GOOD.getBytes(StandardCharsets.UTF_8))));
        assertTrue(
                FhirFile.isOne(input("b.txt", ("\uFEFF\n { \n" + GOOD.substring(1)).getBytes(StandardCharsets.UTF_8))));
        assertTrue(FhirFile.isOne(input("a.gz", packed(csv))));
        assertFalse(FhirFile.isOne(input("a.csv", csv)));
        assertFalse(FhirFile.isOne(input("b.csv", "{patient},completed_on\n".getBytes(StandardCharsets.UTF_8))));
        assertFalse(FhirFile.isOne(input("c.csv", new byte[] {0x1F})));
        assertFalse(FhirFile.isOne(new Input(folder.resolve("none.json"), Optional.empty())));
        assertFalse(FhirFile.isOne(new Input(folder, Optional.empty())));
    }

    // ---- made to do harm

    private static final String AGAIN = " Nothing of it is read. Export it again.";

    @ParameterizedTest
    @ValueSource(strings = {"", " \n\n "})
    void anEmptyFileIsRefused(String text) {
        assertEquals("the file is empty. Export it again.", refusal(text));
    }

    @Test
    void aFileThatIsCutOffIsRefusedWithTheLine() {
        assertEquals(
                "the file ends in the middle of a resource (line 1, character " + (GOOD.length() - 8) + ")." + AGAIN,
                refusal(GOOD.substring(0, GOOD.length() - 9)));
        assertTrue(refusal("{\n" + GOOD.substring(1, 60))
                .startsWith("the file ends in the middle of a resource (line 2, "));
    }

    private static final class Lines implements FhirFormSink {
        private final List<String> told = new ArrayList<>();

        @Override
        public void form(FhirForm form) {
            told.add(form.number() + " read");
        }

        @Override
        public void notReadable(int line, String why) {
            told.add(line + " " + why);
        }
    }

    private List<String> lines(String name, String text) {
        Lines lines = new Lines();
        FhirFile.read(input(name, text.getBytes(StandardCharsets.UTF_8)), lines);
        return lines.told;
    }

    /** A line of NDJSON is one JSON text: what is wrong with it ends with it. Lines invented. */
    @Test
    void ofAFileOfLinesABrokenOneCostsItselfAlone() {
        String text = GOOD + "\n \r\n" + GOOD.substring(0, 60) + "\r\n" + GOOD + " 7\n" + "7\n{}\n" + GOOD;
        List<String> told = List.of(
                "1 read",
                "3 the line ends in the middle of a resource",
                "4 it holds more than one resource",
                "5 it holds JSON that is no FHIR resource: a resource is an object in braces",
                "6 it holds no FHIR resource: nothing in it has a resourceType",
                "7 read");
        assertEquals(told, lines("forms.ndjson", text));
        assertEquals(told, lines("forms.txt", text), "known by its first line");
        assertEquals(
                List.of("1 the line ends in the middle of a resource (character 61)", "2 read"),
                lines("FORMS.NDJSON", GOOD.substring(0, 60) + "\n" + GOOD),
                "known by its name");
        assertEquals(
                "no line of the file can be read (line 1: the line ends in the middle of a resource (character 61)). Export the"
                        + " forms as a Bundle, or as one resource a line.",
                refusal("forms.ndjson", GOOD.substring(0, 60).getBytes(StandardCharsets.UTF_8)));
    }

    /** A long line is read in pieces; one that fills a block of the reader, and one more. */
    @Test
    void linesOfAnyLengthAreRead() {
        for (int blanks :
                new int[] {0, 65_535 - GOOD.length(), 65_536 - GOOD.length(), 65_537 - GOOD.length(), 300_000}) {
            String line = GOOD.substring(0, GOOD.length() - 1) + " ".repeat(blanks) + "}";
            assertEquals(
                    List.of("1 read", "2 read", "3 read"),
                    lines("forms.ndjson", line + "\n" + line + "\n" + GOOD),
                    blanks + " blanks");
        }
    }

    /** The forms of a Bundle are handed on as they come: one that breaks later cannot be taken back, so the file is refused. */
    @Test
    void aBundleOnALineThatBreaksIsRefusedWithTheFile() {
        String bundle = "{\"resourceType\":\"Bundle\",\"entry\":[{\"resource\":" + GOOD + "}]";
        assertEquals(List.of("1 read", "2 read"), lines("forms.ndjson", bundle + "}\n" + GOOD));
        assertTrue(refusal("forms.ndjson", (GOOD + "\n" + bundle).getBytes(StandardCharsets.UTF_8))
                .startsWith("the file ends in the middle of a resource"));
    }

    /** RFC 8259: no single quotes, no comments, no commas at the end, no NaN; names of an object are unique (4: should, we say must). */
    @ParameterizedTest
    @ValueSource(
            strings = {
                "patient,completed_on\nA,2026-01-01\n",
                "{'resourceType':'Bundle'}",
                "{\"resourceType\":\"Bundle\",}",
                "{\"resourceType\":\"Bundle\"/* all */}",
                "{\"resourceType\":NaN}",
                "{\"resourceType\":01}",
                "{\"resourceType\":\"Bundle\"} and more",
                "{\"resourceType\":\"Bund\nle\"}",
                "\u0000"
            })
    void whatIsNoJsonIsRefused(String text) {
        assertTrue(
                refusal(text).matches("the file is no JSON \\(line [12], character \\d+\\)\\." + AGAIN), refusal(text));
    }

    @Test
    void oneNameTwiceIsRefused() {
        String twice = GOOD.replace("\"status\"", "\"status\":\"amended\",\"status\"");
        assertTrue(refusal(twice).startsWith("an object of the file holds one name twice (line 1, "), refusal(twice));
        String deep = GOOD.replace("\"linkId\"", "\"linkId\":\"x\",\"linkId\"");
        assertTrue(
                refusal(deep).startsWith("an object of the file holds one name twice"), "also in what is passed over");
        String passedOver = "{\"resourceType\":\"Patient\",\"a\":{\"b\":1,\"b\":2}}";
        assertTrue(refusal(passedOver).startsWith("an object of the file holds one name twice"));
    }

    @Test
    void anotherEncodingIsRefused() {
        byte[] latin = GOOD.replace("Patient/A", "Patient/\u00E9").getBytes(StandardCharsets.ISO_8859_1);
        String refusal = refusal("latin.json", latin);
        assertTrue(
                refusal.startsWith("the file is no JSON") || refusal.startsWith("the file is not in UTF-8"), refusal);
    }

    /** FHIR R4 (4.0.1) takes UTF-8 alone; with or without the mark of the encoding. */
    @ParameterizedTest
    @ValueSource(strings = {"UTF-16", "UTF-16LE", "UTF-16BE", "UTF-32", "UTF-32LE"})
    void widerCharactersAreRefusedAsSuch(String encoding) {
        String refusal = "the file is not in UTF-8, as FHIR asks for. Export it again.";
        byte[] lines = (GOOD + "\n" + GOOD + "\n").getBytes(Charset.forName(encoding));
        assertEquals(refusal, refusal("forms.ndjson", lines));
        assertEquals(refusal, refusal("forms.ndjson.gz", packed(lines)));
        assertEquals(refusal, refusal("forms.json", GOOD.getBytes(Charset.forName(encoding))));
        byte[] marked = ("\uFEFF" + GOOD + "\n").getBytes(Charset.forName(encoding));
        assertEquals(refusal, refusal("marked.ndjson", marked));
        assertEquals(
                1,
                read("utf8.ndjson", ("\uFEFF" + GOOD + "\n").getBytes(StandardCharsets.UTF_8))
                        .forms
                        .size());
    }

    @ParameterizedTest
    @ValueSource(strings = {"[{\"resourceType\":\"QuestionnaireResponse\"}]", "7", "\"text\"", "null"})
    void jsonThatIsNoResourceIsRefused(String text) {
        assertTrue(refusal(text)
                .startsWith("line 1 holds JSON that is no FHIR resource: a resource is an object in braces."));
        assertTrue(refusal("{\"a\":1}")
                .startsWith("the file is JSON and holds no FHIR resource: nothing in it has a resourceType."));
    }

    /** Each limit: what is just allowed is read, one more is refused. */
    @Test
    void depthNamesNumbersAndTextsHaveLimits() {
        String deep = "something in the file is longer or nested deeper than any form needs";
        int inForm = 1; // the braces of the form itself
        String lists = "{\"resourceType\":\"QuestionnaireResponse\",\"x\":%s}";
        int most = FhirFile.DEPTH - inForm;
        assertEquals(
                1,
                read(lists.formatted("[".repeat(most) + "]".repeat(most))).forms.size());
        assertTrue(refusal(lists.formatted("[".repeat(most + 1) + "]".repeat(most + 1)))
                .startsWith(deep));
        assertTrue(refusal(HEAD + "\"x\":" + "[".repeat(100_000)).startsWith(deep));
        assertTrue(refusal(HEAD + "\"item\":" + "[{\"linkId\":\"g\",\"item\":".repeat(5_000))
                .startsWith(deep));
        String number = "\"item\":[{\"linkId\":\"a\",\"answer\":[{\"valueInteger\":%s}]}]";
        assertEquals(
                "a=" + "3".repeat(FhirFile.NUMBER),
                answers(item("{\"valueInteger\":" + "3".repeat(FhirFile.NUMBER) + "}"))
                        .get(0));
        assertTrue(refusal(HEAD + number.formatted("3".repeat(FhirFile.NUMBER + 1)) + "}")
                .startsWith(deep));
        assertTrue(refusal("{\"" + "n".repeat(60_000) + "\":1}").startsWith(deep));
        assertTrue(refusal(GOOD.replace("Patient/A", "Patient/" + "A".repeat(40_000)))
                .startsWith(deep));
    }

    @Test
    void itemsAndAnswersHaveLimits() {
        String many = "{\"linkId\":\"x\"},";
        assertEquals(
                1,
                read(HEAD + "\"item\":[" + many.repeat(4_999) + "{\"linkId\":\"x\"}]}")
                        .forms
                        .size());
        assertEquals(
                "entry or line 1 holds a form of more than 5000 items. Nothing is read.",
                refusal(HEAD + "\"item\":[" + many.repeat(5_000) + "{\"linkId\":\"x\"}]}"));
        String ticks = "{\"valueInteger\":1},";
        assertEquals(1, answers(item(ticks.repeat(99) + "{\"valueInteger\":1}")).size());
        assertEquals(
                "entry or line 1 holds an item of more than 100 answers. Nothing is read.",
                refusal(HEAD + "\"item\":[" + item(ticks.repeat(100) + "{\"valueInteger\":1}") + "]}"));
    }

    @Test
    void aDamagedPackedFileIsRefused() {
        byte[] good = packed((GOOD + "\n").getBytes(StandardCharsets.UTF_8));
        String damaged = "the packed file (gzip) is damaged or cut off. Copy it again.";
        assertEquals(damaged, refusal("half.gz", Arrays.copyOf(good, good.length / 2)));
        assertEquals(damaged, refusal("none.gz", new byte[] {0x1F, (byte) 0x8B, 8, 0, 1, 2, 3}));
        byte[] changed = good.clone();
        changed[good.length - 6] ^= 1; // of the checksum of RFC 1952
        assertEquals(damaged, refusal("sum.gz", changed));
    }

    private static byte[] joined(byte[]... parts) {
        ByteArrayOutputStream all = new ByteArrayOutputStream();
        for (byte[] part : parts) {
            all.writeBytes(part);
        }
        return all.toByteArray();
    }

    /** A file of several members, as two packed files one after the other are. Source: RFC 1952, section 2.2. */
    @Test
    void everyMemberOfAPackedFileIsReadOrRefused() {
        byte[] first = packed((GOOD + "\n").getBytes(StandardCharsets.UTF_8));
        byte[] second = packed((GOOD.replace("Patient/A", "Patient/B") + "\n").getBytes(StandardCharsets.UTF_8));
        List<String> both = read("two.ndjson.gz", joined(first, second)).forms.stream()
                .map(f -> f.patient().orElseThrow())
                .toList();
        assertEquals(List.of("A", "B"), both);
        assertEquals(
                1, read("padded.ndjson.gz", joined(first, new byte[40])).forms.size(), "zeros to the end of a block");
        String damaged = "the packed file (gzip) is damaged or cut off. Copy it again.";
        for (int left : new int[] {1, 2, 9, 12, second.length / 2, second.length - 1}) {
            byte[] cut = joined(first, Arrays.copyOf(second, left));
            assertEquals(damaged, refusal("cut.ndjson.gz", cut), left + " bytes of the second member");
        }
        for (int at : new int[] {0, 1, 2, second.length - 6, second.length - 1}) {
            byte[] changed = second.clone();
            changed[at] ^= 0x55;
            assertEquals(damaged, refusal("changed.ndjson.gz", joined(first, changed)), "byte " + at + " changed");
        }
        assertEquals(damaged, refusal("late.ndjson.gz", joined(first, new byte[40], second)), "a member after zeros");
    }

    /** 64 MB of blanks pack to about 64 kB, a thousandth; 16 MB are taken in any case. */
    @Test
    void whatUnpacksToFarMoreThanFormsDoIsRefused() {
        byte[] blanks = new byte[1 << 26];
        Arrays.fill(blanks, (byte) ' ');
        assertEquals(
                "the packed file (gzip) unpacks to far more than forms do. It is not read.",
                refusal("bomb.gz", packed(blanks)));
        byte[] fewer = Arrays.copyOf(blanks, 1 << 23);
        assertEquals("the file is empty. Export it again.", refusal("small.gz", packed(fewer)));
    }

    @Test
    void aFileThatIsNotThereIsRefused() {
        Input none = new Input(folder.resolve("none.json"), Optional.empty());
        UnreadableInputException refused =
                assertThrows(UnreadableInputException.class, () -> FhirFile.read(none, new Taken()));
        assertTrue(refused.getMessage().startsWith("none.json: the file cannot be read ("), refused.getMessage());
    }
}
