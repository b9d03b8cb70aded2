package lumbrical.intake;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.nio.file.Path;
import java.util.ArrayList;
import java.util.Collections;
import java.util.List;
import java.util.Optional;
import lumbrical.batch.BatchScorer;
import lumbrical.problem.Problem;
import lumbrical.scoring.Response;
import lumbrical.scoring.ScoreResult;
import lumbrical.scoring.ScoringOptions;
import lumbrical.sitting.Sitting;
import lumbrical.tabular.Input;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

/** What forms of FHIR R4 mean: which instrument, which item, which sitting. All invented. */
class FhirRowsTest {
    private static final String HEAD = "{\"resourceType\":\"QuestionnaireResponse\",\"status\":\"completed\","
            + "\"authored\":\"2026-03-01\",\"subject\":{\"reference\":\"Patient/A\"},"
            + "\"questionnaire\":\"https://lumbrical.example/fhir/Questionnaire/nprs|1\",";
    private static final String GOOD = HEAD + "\"item\":[{\"linkId\":\"rest\",\"answer\":[{\"valueInteger\":3}]}]}";

    @TempDir
    private Path folder;

    private ReadTable read(ReadOptions options, String... lines) {
        return ReadTable.files(options, ReadTable.write(folder, "forms.ndjson", lines));
    }

    private ReadTable read(String... lines) {
        return read(ReadTable.PLAIN, lines);
    }

    /** Codes of problems without notes, such as {@code forms.ndjson row 2, column side [x] side-not-known}. */
    private static List<String> faults(ReadTable read) {
        return read.codes().stream().filter(c -> !c.contains("] note-")).toList();
    }

    private static List<String> notes(ReadTable read) {
        return read.codes().stream().filter(c -> c.contains("] note-")).toList();
    }

    private ReadOptions mapped(String... lines) {
        Path map = ReadTable.write(folder, "map.csv", lines);
        return ReadTable.with(o -> o.columns(ColumnMap.read(new Input(map, Optional.empty()))));
    }

    private List<String> scores(Path file, ReadOptions options, List<Problem> problems) {
        List<String> scores = new ArrayList<>();
        new BatchScorer(ReadTable.CATALOGUE, options, new ScoringOptions(false, false))
                .score(
                        List.of(new Input(file, Optional.empty())),
                        (row, forms) -> forms.forEach(form -> form.results()
                                .forEach((result) -> scores.add(form.sitting().patient() + " "
                                        + form.sitting().completedOn() + " "
                                        + form.sitting()
                                                .side()
                                                .map(s -> s.code() + " ")
                                                .orElse("")
                                        + words(result)))),
                        problems::add);
        return scores;
    }

    private static String words(ScoreResult result) {
        return result.scored().map(s -> String.valueOf(s.value())).orElse("none") + " "
                + result.reason().map(r -> r.code()).orElse(result.outcome().code());
    }

    // ---- forms of others

    /** Items Q1 to Q11 of another house's form: nested groups, codings with weights, decimals, a time zone over midnight. */
    private static final String OTHERS =
            """
            \uFEFF{"entry":[
             {"resource":{"item":[{"linkId":"g","item":[%s]}],"authored":"2026-03-01T23:30:00-11:00","status":"completed",
              "subject":{"identifier":{"system":"urn:x","value":"007"},"display":"Somebody"},
              "questionnaire":"https://other.example/Questionnaire/hand|2","resourceType":"QuestionnaireResponse"}},
             {"resource":{"resourceType":"Patient","id":"x","item":5}},
             {"resource":{"resourceType":"QuestionnaireResponse","status":"entered-in-error","authored":"2026-03-02",
              "subject":{"reference":"Patient/008"},"item":[{"linkId":"Q1","answer":[{"valueInteger":1}]}]}},
             {"resource":{"resourceType":"QuestionnaireResponse","status":"in-progress","authored":"2026-03-02",
              "subject":{"reference":"https://s.example/fhir/Patient/008/_history/2"},
              "source":{"reference":"RelatedPerson/1","display":"Somebody"},
              "item":[{"linkId":"Q1","answer":[{"valueInteger":1},{"valueInteger":2}]},{"linkId":"which","answer":[{"valueString":"left"}]}]}},
             {"resource":{"resourceType":"QuestionnaireResponse","status":"completed",
              "subject":{"reference":"Patient/009"},"item":[{"linkId":"Q1","answer":[{"valueInteger":1}]}]}},
             {"resource":{"resourceType":"QuestionnaireResponse","status":"completed","authored":"2026-03-02",
              "subject":{"reference":"#p"},"item":[{"linkId":"Q1","answer":[{"valueQuantity":{"value":3,"unit":"cm"}}]}]}},
             {"resource":{"resourceType":"QuestionnaireResponse","status":"completed","authored":"2026-03-02",
              "questionnaire":"https://other.example/Questionnaire/mood","subject":{"reference":"Patient/009"},
              "item":[{"linkId":"m1","answer":[{"valueInteger":1}]}]}}
            ],"link":[{"relation":"next","url":"https://s.example/fhir?page=2"}],"resourceType":"Bundle","type":"searchset"}
            """;

    private static final String WEIGHT =
            "\"extension\":[{\"url\":\"http://hl7.org/fhir/StructureDefinition/ordinalValue\",\"valueDecimal\":%d}]";

    private static String others() {
        List<String> items = new ArrayList<>();
        for (int i = 1; i <= 11; i++) {
            String answer =
                    switch (i % 4) {
                        case 0 -> "\"valueDecimal\":3.0";
                        case 1 -> "\"valueCoding\":{\"system\":\"urn:x\",\"code\":\"3\",\"display\":\"some\"}";
                        case 2 -> "\"valueCoding\":{\"code\":\"LA-9\"," + WEIGHT.formatted(3) + "}";
                        default -> "\"valueString\":\" 3 \"";
                    };
            items.add("{\"answer\":[{" + answer + "}],\"linkId\":\"Q" + i + "\"}");
        }
        return OTHERS.formatted(String.join(",", items));
    }

    private ReadOptions othersMap() {
        List<String> map = new ArrayList<>(List.of("heading,column", "which,side"));
        for (int i = 1; i <= 11; i++) {
            map.add("Q" + i + ",quickdash_" + i);
        }
        return mapped(map.toArray(String[]::new));
    }

    /** Eleven answers of 3 score 50: (33 / 11 - 1) x 25. Source: Beaton 2005, J Bone Joint Surg Am 87:1038-1046, the published formula. */
    @Test
    void formsOfAnotherHouseAreReadByTheirLinkIds() {
        Path bundle = ReadTable.write(folder, "bundle.json", others());
        List<Problem> problems = new ArrayList<>();
        assertEquals(
                List.of("007 2026-03-01 50.0 complete", "008 2026-03-02 left none response-not-allowed"),
                scores(bundle, othersMap(), problems),
                "the day as written, whatever the time zone");
        ReadTable read = ReadTable.files(othersMap(), bundle);
        assertEquals(
                List.of(
                        "bundle.json row 4, column Q1 [1, 2] response-not-allowed",
                        "bundle.json row 5, column completed_on [] date-missing",
                        "bundle.json row 6, column Q1 [3 cm] response-not-allowed",
                        "bundle.json row 6, column patient [] patient-missing"),
                faults(read).stream().sorted().toList());
        assertTrue(
                notes(read)
                        .containsAll(List.of(
                                "bundle.json row 3, column status [entered-in-error] note-form-entered-in-error",
                                "bundle.json row 4, column status [in-progress] note-form-not-finished",
                                "bundle.json [] note-more-pages")),
                notes(read).toString());
        assertEquals(
                List.of("questionnaire https://other.example/Questionnaire/mood"),
                read.summary.unusedColumns().stream()
                        .filter(u -> u.startsWith("questionnaire"))
                        .toList());
        assertEquals(5, read.summary.rows());
        assertEquals(3, read.summary.rejected());
        assertFalse(read.problems.toString().contains("Somebody"), "a display may be a name");
        assertTrue(read.sittings.get(1).contains(" by proxy"), read.sittings.toString());
    }

    @Test
    void aMappedCanonicalMakesItsLinkIdsKnown() {
        String form = GOOD.replace(
                        "https://lumbrical.example/fhir/Questionnaire/nprs|1", "https://other.example/Q/pain|7")
                .replace("]}]}", "]},{\"linkId\":\"rset\",\"answer\":[{\"valueDecimal\":4}]}]}");
        ReadTable read = read(mapped("heading,column", "https://other.example/Q/pain,nprs"), form);
        assertEquals(List.of("forms.ndjson row 1, column rset [] unknown-column"), faults(read));
        assertEquals(
                List.of("This item is not known and not used. Did you mean rest? Correct its linkId."),
                read.advices().stream().filter(a -> a.contains("Did you mean")).toList());
        assertEquals(1, read.sittings.size());
        ReadTable without = read(form);
        assertEquals(List.of("forms.ndjson [] no-instrument-found"), faults(without));
        assertEquals(List.of(), without.sittings);
    }

    @Test
    void aLinkIdThatTheMapLeavesOutIsPassedOver() {
        String form = GOOD.replace("]}]}", "]},{\"linkId\":\"rset\",\"answer\":[{\"valueDecimal\":4}]}]}");
        assertEquals(List.of(), faults(read(mapped("heading,column", "rset,"), form)));
    }

    @Test
    void anItemThatNoFormOfTheFileHasIsTold() {
        Path bundle = ReadTable.write(folder, "bundle.json", others().replace("\"Q11\"", "\"Q12\""));
        ReadTable read = ReadTable.files(othersMap(), bundle);
        assertTrue(
                read.advices().stream().anyMatch(a -> a.startsWith("The file has no column quickdash_11")),
                read.advices().toString());
        assertFalse(read.summary.headings().contains("q11"), "so that its row of the map is told as not used");
        assertTrue(
                read.summary.headings().contains("q10"), read.summary.headings().toString());
    }

    /** An entry needs a resource unless it is a request or a response. Source: FHIR R4 (4.0.1), Bundle, bdl-5. */
    @Test
    void anEntryWithoutAResourceIsRejectedAlone() {
        String bundle =
                "{\"resourceType\":\"Bundle\",\"type\":\"collection\",\"entry\":[null,{},{\"fullUrl\":\"urn:x\"},"
                        + "{\"resource\":null},{\"resource\":{}},{\"request\":{\"method\":\"DELETE\",\"url\":\"Patient/1\"}},"
                        + "{\"response\":{\"status\":\"200\"}},[],{\"resource\":" + GOOD + "}]}";
        Path file = ReadTable.write(folder, "bundle.json", bundle);
        ReadTable read = ReadTable.files(ReadTable.PLAIN, file);
        assertEquals(
                List.of(1, 2, 3, 4, 5, 8).stream()
                        .map(row -> "bundle.json row " + row + " [] form-not-readable")
                        .toList(),
                faults(read));
        assertTrue(
                read.advices()
                        .contains(
                                "The entry of the Bundle is rejected: it holds no resource. Export it again, or tell whoever made"
                                        + " the file."),
                read.advices().toString());
        assertEquals(7, read.summary.rows());
        assertEquals(6, read.summary.rejected());
        assertEquals(1, read.sittings.size(), "the form after them is read");
        ReadTable line = read(bundle, GOOD.replace("2026-03-01", "2026-03-02"));
        assertEquals(
                Collections.nCopies(6, "forms.ndjson row 1 [] form-not-readable"),
                faults(line),
                "also of a Bundle on a line");
        assertEquals(2, line.sittings.size());
    }

    @Test
    void aFileWithoutAFormSaysSo() {
        ReadTable read = read("{\"resourceType\":\"Patient\",\"id\":\"x\"}");
        assertEquals(List.of("forms.ndjson [] note-no-rows"), read.codes());
        assertEquals(
                List.of("The file holds FHIR resources and no QuestionnaireResponse among them. Is it the right file?"),
                read.advices());
    }

    // ---- forms of ours

    @Test
    void anotherVersionIsReadWithThisOneAndToldOnce() {
        String other = GOOD.replace("nprs|1", "nprs|0");
        ReadTable read =
                read(other, other, GOOD.replace("nprs|1", "nprs|1-a3f0").replace("2026-03-01", "2026-03-02"));
        assertEquals(
                List.of("forms.ndjson row 1, column questionnaire [0] note-other-version"),
                notes(read).stream().filter(n -> n.contains("version")).toList());
    }

    private static final String UNDATED =
            "{\"resourceType\":\"QuestionnaireResponse\",\"identifier\":{\"system\":\"%s\",\"value\":\"%s\"},"
                    + "\"questionnaire\":\"https://lumbrical.example/fhir/Questionnaire/nprs|1\",\"status\":\"completed\","
                    + "\"subject\":{\"reference\":\"Patient/A\"},\"item\":[{\"linkId\":\"rest\",\"answer\":[{\"valueInteger\":%d}]}]}";
    private static final String OURS = "https://lumbrical.example/fhir/id/form";

    /** Weeks tell no date; two forms of one week are two by their identifiers. A stranger's form needs a date. */
    @Test
    void formsOfOursWithoutADateAreKnownByTheirIdentifier() {
        Path lines = ReadTable.write(
                folder, "forms.ndjson", UNDATED.formatted(OURS, "K1", 3), UNDATED.formatted(OURS, "K2", 9));
        List<Problem> problems = new ArrayList<>();
        List<String> scores = scores(lines, ReadTable.PLAIN, problems);
        assertEquals(
                List.of("3.0 complete", "9.0 complete"),
                scores.stream()
                        .filter(s -> !s.contains("none"))
                        .map(s -> s.replaceAll("^A \\S+ ", ""))
                        .toList());
        ReadTable read = ReadTable.files(ReadTable.PLAIN, lines);
        assertEquals(
                List.of("forms.ndjson row 1, column authored [] note-date-is-relative"),
                notes(read).stream().filter(n -> n.contains("relative")).toList());
        assertEquals(List.of(), faults(read));
        ReadTable strangers = read(UNDATED.formatted("urn:other", "K1", 3));
        assertEquals(List.of("forms.ndjson row 1, column completed_on [] date-missing"), faults(strangers));
    }

    @Test
    void theEpisodeThatAFormNamesCountsOnlyInOurs() {
        String episode = "\"extension\":[{\"url\":\"http://hl7.org/fhir/StructureDefinition/workflow-episodeOfCare\","
                + "\"valueReference\":{\"reference\":\"EpisodeOfCare/E1\"}}],";
        String ours =
                "{" + episode + "\"identifier\":{\"system\":\"" + OURS + "\",\"value\":\"K\"}," + GOOD.substring(1);
        assertTrue(read(ours).sittings.get(0).contains(" episode E1"), "ours");
        assertFalse(read("{" + episode + GOOD.substring(1)).sittings.get(0).contains("episode"), "a stranger's");
    }

    // ---- odd values

    /** Read without harm: values that no item allows, an id like a formula, a group's Group. */
    @ParameterizedTest(name = "{0} -> {1}: {2}")
    @CsvSource(
            delimiter = '|',
            value = {
                ":3} | :1e400000} | column rest [1e400000] response-not-allowed",
                ":3} | :\"seven\"} | column rest [seven] response-not-allowed",
                ":3} | :\"\\uFFFE formula not calculated\"} | response-not-allowed",
                "valueInteger\":3 | valueAttachment\":{\"data\":\"QUJD\"} | column rest [(valueAttachment)] response-not-allowed",
                "valueInteger\":3 | valueBoolean\":true | column rest [true] response-not-allowed",
                "valueInteger\":3 | valueInteger\":3,\"valueString\":\"5\" | column rest [3, 5] response-not-allowed",
                "valueInteger\":3 | valueQuantity\":{\"value\":3,\"comparator\":\"<\"} | column rest [< 3] response-not-allowed",
                "valueInteger\":3 | valueScore\":3 | column rest [(valueScore)] response-not-allowed",
                "Patient/A | Group/A | column patient [] patient-missing",
                "2026-03-01 | 2026-03 | column completed_on [2026-03] date-not-iso",
                "2026-03-01 | 2026-02-30 | column completed_on [2026-02-30] date-not-iso",
                "\"completed\" | \"done\" | column status [done] value-not-allowed",
                "{\"linkId\":\"rest\" | {\"linkId\":\"rest\",\"answer\":[{\"valueInteger\":5}]},{\"linkId\":\"rest\" | column rest [5, 3] response-not-allowed",
                "\"2026-03-01\" | 20260301 | form-not-readable"
            })
    void oddValuesAreProblemsOfTheirRow(String part, String odd, String problem) {
        ReadTable read = read(GOOD.replace(part, odd), GOOD.replace("2026-03-01", "2026-03-02"));
        assertEquals(1, faults(read).size(), read.codes().toString());
        String fault = faults(read).get(0);
        assertTrue(fault.startsWith("forms.ndjson row 1") && fault.endsWith(problem), fault);
        assertTrue(read.sittings.get(read.sittings.size() - 1).startsWith("A 2026-03-02"), "the next form is read");
    }

    @Test
    void aDateTimeOrdersTheFormsOfADay() {
        ReadTable read = read(GOOD.replace("2026-03-01", "2026-03-01T23:30:00-11:00"));
        assertEquals(List.of(), faults(read));
        assertTrue(read.sittings.get(0).startsWith("A 2026-03-01T23:30"), read.sittings.toString());
    }

    /** Cell by cell, as for two entries of the same forms. */
    @Test
    void entriesOfAFormAreThoseOfItsItems() {
        Path lines = ReadTable.write(folder, "forms.ndjson", GOOD);
        List<String> entries = new ArrayList<>();
        ResponseReader.readEntries(
                new Input(lines, Optional.empty()),
                ReadTable.CATALOGUE,
                ReadTable.PLAIN,
                new EntrySink() {
                    @Override
                    public void columns(List<String> names) {
                        entries.add(names.contains("nprs_rest") ? "columns with nprs_rest" : "columns");
                    }

                    @Override
                    public void row(Sitting sitting) {
                        entries.add("row of " + sitting.patient());
                    }

                    @Override
                    public void cell(Sitting sitting, String column, String text, Response response) {
                        entries.add(column + "=" + text);
                    }
                },
                problem -> {});
        assertEquals(List.of("columns with nprs_rest", "row of A"), entries.subList(0, 2));
        assertTrue(entries.contains("nprs_rest=3"), entries.toString());
        assertEquals(1, entries.stream().filter(e -> e.startsWith("nprs_")).count());
    }
}
