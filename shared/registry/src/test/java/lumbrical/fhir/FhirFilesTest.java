package lumbrical.fhir;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertNotEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.node.ObjectNode;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.HashMap;
import java.util.HashSet;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.TreeSet;
import java.util.stream.Collectors;
import java.util.stream.StreamSupport;
import lumbrical.deidentify.DeidentifiedDataset;
import lumbrical.deidentify.Profile;
import lumbrical.deidentify.SendingLog;
import lumbrical.deidentify.SentRecords;
import lumbrical.sending.InventedClinic;
import lumbrical.sending.MemoryFiles;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

/**
 * Resources of two invented patients, worked by hand. Names of elements, codes and the rules of a transaction are those of HL7 FHIR R4
 * (4.0.1): Bundle, QuestionnaireResponse, Observation, data-absent-reason, the extension relative-date, UCUM.
 *
 * <p>PRWE: pain is the sum of five items, function half of that of ten, the total both together: fifteen times 6 makes 60, fifteen times 2
 * makes 20. QuickDASH: (mean - 1) x 25, ten answers are needed. PROMIS: the conversion table (second-hand; test-vectors, promispf4a),
 * a raw sum of 20 is 57.0 with a standard error of 6.6.
 */
class FhirFilesTest {
    private static final String BASE = "https://lumbrical.example/fhir";

    /** A: improves by 40 on the PRWE. B: one gap, then two on the QuickDASH; one rating that is not allowed. */
    private static final String EPISODES =
            """
            patient,episode,treated_side,index_date,sex,birth_year,closed_on,closed_reason
            A,1,right,2025-01-10,female,1980,2025-06-01,moved
            B,1,left,2025-01-10,male,1930,,
            """;

    private static final String HEADER =
            "patient,completed_on,side,mode,respondent,language,instrument,item,response\n";

    private static final String A = "A,2025-01-09,right,web,self,de";
    private static final String A_LATER = "A,2025-02-25,right,phone,proxy,";
    private static final String B = "B,2025-01-10,left,paper,,";
    private static final String B_LATER = "B,2025-02-25,left,,,";

    private static final String RESPONSES = HEADER
            + InventedClinic.answers(A, "prwe", 1, 15, 6)
            + InventedClinic.answers(A_LATER, "prwe", 1, 15, 2)
            + InventedClinic.answers(B, "quickdash", 1, 10, 3)
            + InventedClinic.answers(B_LATER, "quickdash", 1, 9, 2)
            + InventedClinic.answers(B, "promispf4a", 1, 4, 5)
            + B + ",nprs,rest,11\n"
            + B + ",nprs,worst,4\n";

    private static final Profile WEEKS = InventedClinic.profile(
            Profile.Dates.WEEKS_FROM_INDEX,
            InventedClinic.column("sex", "female", "male"),
            InventedClinic.column("age_band"),
            InventedClinic.column("closed_reason"),
            InventedClinic.column("mode", "paper", "phone", "web"),
            InventedClinic.column("respondent", "self", "proxy"),
            InventedClinic.column("language"));

    @TempDir
    private Path folder;

    private InventedClinic clinic() {
        return InventedClinic.of(folder, EPISODES, RESPONSES);
    }

    private static MemoryFiles files(DeidentifiedDataset sent, boolean lines, SendingLog log) {
        MemoryFiles files = new MemoryFiles();
        FhirFiles.write(sent, new FhirFiles.FhirSettings(lines, ExternalCodes.NONE), log, files);
        return files;
    }

    private static MemoryFiles files(DeidentifiedDataset sent, boolean lines) {
        return files(sent, lines, new SendingLog(SentRecords.NONE));
    }

    private static List<JsonNode> list(JsonNode array) {
        return StreamSupport.stream(array.spliterator(), false).toList();
    }

    private static List<JsonNode> entries(MemoryFiles files, String name) {
        return files.names().stream()
                .filter(n -> n.startsWith("data/" + name))
                .flatMap(n -> list(files.json(n).get("entry")).stream())
                .toList();
    }

    /** The resources of all bundles by type and id. */
    private static Map<String, JsonNode> resources(MemoryFiles files) {
        Map<String, JsonNode> resources = new LinkedHashMap<>();
        for (JsonNode entry : entries(files, "bundle")) {
            JsonNode resource = entry.get("resource");
            resources.put(text(resource, "/resourceType") + "/" + text(resource, "/id"), resource);
        }
        return resources;
    }

    private static String text(JsonNode node, String pointer) {
        return node.at(pointer).asText();
    }

    /** The key of a form, as the key file gives it. */
    private String key(String patient, String day, String side, String instrument) {
        return clinic().keys().form(List.of(patient, day, side, instrument));
    }

    private JsonNode resource(Profile profile, String reference) {
        Map<String, JsonNode> resources = resources(files(clinic().sent(profile), false));
        return Optional.ofNullable(resources.get(reference))
                .orElseThrow(() -> new AssertionError(reference + " is not among " + resources.keySet()));
    }

    private JsonNode resource(String reference) {
        return resource(WEEKS, reference);
    }

    /** Values of our extensions, by the name of the column. */
    private static Map<String, String> attributes(JsonNode resource) {
        Map<String, String> attributes = new HashMap<>();
        for (JsonNode extension : resource.at("/extension")) {
            if (text(extension, "/url").equals(BASE + "/StructureDefinition/attribute")) {
                assertEquals("name", text(extension, "/extension/0/url"));
                attributes.put(
                        text(extension, "/extension/0/valueString"), text(extension, "/extension/1/valueString"));
            }
        }
        return attributes;
    }

    // ---- transactions

    @Test
    void oneTransactionHoldsDefinitionsThenPatientsThenTheirEpisodes() {
        MemoryFiles files = files(clinic().sent(WEEKS), false);
        assertEquals(List.of("data/bundle-00001.json"), files.names());
        JsonNode bundle = files.json("data/bundle-00001.json");
        assertEquals("Bundle transaction", text(bundle, "/resourceType") + " " + text(bundle, "/type"));
        assertEquals(files.count("data/bundle-00001.json"), bundle.get("entry").size());
        List<String> order = new ArrayList<>();
        Set<String> addresses = new HashSet<>();
        for (JsonNode entry : bundle.get("entry")) {
            String type = text(entry, "/resource/resourceType");
            String id = text(entry, "/resource/id");
            if (order.isEmpty() || !order.get(order.size() - 1).equals(type)) {
                order.add(type);
            }
            assertTrue(addresses.add(text(entry, "/fullUrl")), "an address twice: " + entry);
            assertEquals("PUT", text(entry, "/request/method"));
            String url = text(entry, "/request/url");
            switch (type) {
                case "Patient" -> assertEquals("Patient?identifier=" + BASE + "/id/subject|" + id, url);
                case "EpisodeOfCare", "QuestionnaireResponse", "Observation" -> assertEquals(type + "/" + id, url);
                default ->
                    assertEquals(
                            type + "?url=" + text(entry, "/resource/url") + "&version="
                                    + text(entry, "/resource/version"),
                            url);
            }
            assertTrue(id.matches("[A-Za-z0-9.-]{1,64}"), "R4, data type id: " + id);
        }
        assertEquals("StructureDefinition", order.get(0));
        assertEquals(
                List.of("Questionnaire", "Patient", "EpisodeOfCare", "QuestionnaireResponse"),
                order.subList(order.indexOf("Questionnaire"), order.indexOf("QuestionnaireResponse") + 1));
        assertEquals(
                Set.of("prwe", "quickdash", "promispf4a", "nprs"),
                resources(files).keySet().stream()
                        .filter(r -> r.startsWith("Questionnaire/lumbrical-"))
                        .map(r -> r.replaceAll("Questionnaire/lumbrical-|-1$", ""))
                        .collect(Collectors.toSet()));
    }

    @Test
    void aPatientHasTheSexAndAgeThatTheProfileLets() {
        JsonNode patient = resource("Patient/SA");
        assertEquals("SA", text(patient, "/identifier/0/value"));
        assertEquals(BASE + "/id/subject", text(patient, "/identifier/0/system"));
        assertEquals("female", text(patient, "/gender"));
        assertEquals(Map.of("age_band", "40-49"), attributes(patient)); // 2025 less 1980
        assertEquals(Map.of("age_band", "90+"), attributes(resource("Patient/SB"))); // 2025 less 1930
        assertEquals("CLINIC", text(patient, "/meta/tag/0/code"));
        assertEquals("HAND", text(patient, "/meta/tag/1/code"));
        JsonNode bare = resource(InventedClinic.profile(Profile.Dates.WEEKS_FROM_INDEX), "Patient/SA");
        assertFalse(bare.has("gender") || bare.has("extension"), bare.toString());
    }

    @Test
    void anEpisodeTellsItsSideWhetherItIsClosedAndItsStartAsTheProfileLets() {
        JsonNode closed = resource("EpisodeOfCare/SA-1");
        assertEquals("finished", text(closed, "/status"));
        assertEquals("right", attributes(closed).get("treated_side"));
        assertEquals("moved", attributes(closed).get("closed_reason"));
        assertEquals("Patient?identifier=" + BASE + "/id/subject|SA", text(closed, "/patient/reference"));
        assertFalse(closed.has("period"), "weeks tell no date");
        assertEquals("active", text(resource("EpisodeOfCare/SB-1"), "/status"));
        Profile days = InventedClinic.profile(Profile.Dates.DAYS_FROM_INDEX);
        assertEquals("2025", text(resource(days, "EpisodeOfCare/SA-1"), "/period/start"));
        Profile shifted = InventedClinic.profile(Profile.Dates.SHIFTED);
        assertEquals(
                java.time.LocalDate.parse("2025-01-10")
                        .plusDays(clinic().keys().shiftDays("A"))
                        .toString(),
                text(resource(shifted, "EpisodeOfCare/SA-1"), "/period/start"));
    }

    // ---- forms

    @Test
    void aFormHoldsItsResponsesAsCodingsOfAVersionedSystem() {
        JsonNode form = resource("QuestionnaireResponse/" + key("A", "2025-01-09", "right", "prwe"));
        assertEquals("completed", text(form, "/status"));
        assertEquals(BASE + "/Questionnaire/prwe|1", text(form, "/questionnaire"));
        assertEquals(15, form.get("item").size());
        JsonNode first = form.at("/item/0");
        assertEquals("1", text(first, "/linkId"));
        assertEquals("6", text(first, "/answer/0/valueCoding/code"));
        assertTrue(text(first, "/answer/0/valueCoding/version").matches("[0-9a-f]{12}"), first.toString());
        assertEquals("de", text(form, "/language"));
        assertEquals("right", attributes(form).get("side"));
        // HL7 v3 ParticipationMode: ELECTRONIC, WRITTEN, VERBAL
        assertEquals("ELECTRONIC", mode(form));
        assertEquals("VERBAL", mode(resource("QuestionnaireResponse/" + key("A", "2025-02-25", "right", "prwe"))));
        assertEquals("WRITTEN", mode(resource("QuestionnaireResponse/" + key("B", "2025-01-10", "left", "nprs"))));
        assertEquals(text(form, "/subject/reference"), text(form, "/source/reference"), "the person answered");
        JsonNode proxy = resource("QuestionnaireResponse/" + key("A", "2025-02-25", "right", "prwe"));
        assertEquals("RelatedPerson proxy", text(proxy, "/source/type") + " " + text(proxy, "/source/display"));
        assertFalse(proxy.has("language"));
    }

    private static String mode(JsonNode form) {
        return list(form.get("extension")).stream()
                .filter(e -> text(e, "/url")
                        .equals("http://hl7.org/fhir/StructureDefinition/questionnaireresponse-completionMode"))
                .map(e -> text(e, "/valueCodeableConcept/coding/0/code"))
                .findFirst()
                .orElse("none");
    }

    /** R4, data-absent-reason: {@code error}, where a value is not valid; an item left blank has no answer and no reason. */
    @Test
    void aResponseThatIsNotAllowedIsMarkedAndNotSent() {
        JsonNode form = resource("QuestionnaireResponse/" + key("B", "2025-01-10", "left", "nprs"));
        Map<String, JsonNode> items =
                list(form.get("item")).stream().collect(Collectors.toMap(i -> text(i, "/linkId"), i -> i));
        assertEquals("error", text(items.get("rest"), "/extension/0/valueCode"));
        assertFalse(items.get("rest").has("answer"));
        assertFalse(items.get("activity").has("answer") || items.get("activity").has("extension"));
        assertEquals("4", text(items.get("worst"), "/answer/0/valueCoding/code"));
        assertFalse(form.toString().contains("\"11\""));
    }

    /** The extension relative-date of R4: an event, before or after it, and how long; a duration is never negative. */
    @ParameterizedTest(name = "{0}: {1} {2} {3}")
    @CsvSource({
        "2025-01-02,before-start,2,weeks,8,days",
        "2025-01-09,before-start,1,week,1,day",
        "2025-01-10,after-start,0,weeks,0,days",
        "2025-01-17,after-start,1,week,7,days",
        "2025-01-24,after-start,2,weeks,14,days"
    })
    void aDateIsToldByItsDistanceFromTheStart(
            String date, String relation, int weeks, String unit, int days, String dayUnit) {
        InventedClinic clinic =
                InventedClinic.of(folder, EPISODES, "patient,completed_on,side,nprs_rest\nA," + date + ",right,3\n");
        String form = "QuestionnaireResponse/" + clinic.keys().form(List.of("A", date, "right", "nprs"));
        JsonNode inWeeks = resources(files(clinic.sent(WEEKS), false)).get(form);
        assertEquals(List.of("EpisodeOfCare/SA-1", relation, weeks + " " + unit + " wk"), relative(inWeeks));
        assertFalse(inWeeks.has("authored"));
        JsonNode inDays = resources(files(clinic.sent(InventedClinic.profile(Profile.Dates.DAYS_FROM_INDEX)), false))
                .get(form);
        assertEquals(List.of("EpisodeOfCare/SA-1", relation, days + " " + dayUnit + " d"), relative(inDays));
        assertEquals("2025", text(inDays, "/authored"));
    }

    private static List<String> relative(JsonNode form) {
        JsonNode extension = form.at("/_authored/extension/0");
        assertEquals("http://hl7.org/fhir/StructureDefinition/relative-date", text(extension, "/url"));
        assertEquals("event", text(extension, "/extension/0/url"));
        assertEquals("http://unitsofmeasure.org", text(extension, "/extension/2/valueDuration/system"));
        JsonNode offset = extension.at("/extension/2/valueDuration");
        return List.of(
                text(extension, "/extension/0/valueReference/reference"),
                text(extension, "/extension/1/valueCode"),
                text(offset, "/value") + " " + text(offset, "/unit") + " " + text(offset, "/code"));
    }

    // ---- scores

    private JsonNode score(String patient, String day, String side, String instrument, String scale) {
        return resource("Observation/" + key(patient, day, side, instrument) + "-" + scale);
    }

    @Test
    void aScoreIsAnObservationDerivedFromItsForm() {
        String form = key("A", "2025-01-09", "right", "prwe");
        JsonNode total = score("A", "2025-01-09", "right", "prwe", "total");
        assertEquals("final", text(total, "/status"));
        assertEquals(60, total.at("/valueQuantity/value").asDouble());
        assertEquals("{score}", text(total, "/valueQuantity/code"));
        assertEquals("prwe-total", text(total, "/code/coding/0/code"));
        assertEquals(BASE + "/CodeSystem/prwe", text(total, "/code/coding/0/system"));
        assertEquals("survey", text(total, "/category/0/coding/0/code"));
        assertEquals("right hand", text(total, "/bodySite/text"));
        assertEquals("QuestionnaireResponse/" + form, text(total, "/derivedFrom/0/reference"));
        assertEquals(
                Set.of("Observation/" + form + "-pain", "Observation/" + form + "-function"),
                list(total.get("hasMember")).stream()
                        .map(m -> text(m, "/reference"))
                        .collect(Collectors.toSet()));
        assertEquals(
                30,
                score("A", "2025-01-09", "right", "prwe", "pain")
                        .at("/valueQuantity/value")
                        .asDouble());
        assertFalse(total.has("dataAbsentReason") || total.has("note") || total.has("referenceRange"));
        assertTrue(text(total, "/method/text").contains("prwe@1")
                && text(total, "/method/text").contains("lower is better"));
        List<String> ids =
                new ArrayList<>(resources(files(clinic().sent(WEEKS), false)).keySet());
        assertTrue(
                ids.indexOf("Observation/" + form + "-pain") < ids.indexOf("Observation/" + form + "-total"),
                "parts before the whole that names them");
    }

    @Test
    void aScoreUnderAMissingItemRuleSaysSo() {
        JsonNode score = score("B", "2025-01-10", "left", "quickdash", "total");
        assertEquals(50, score.at("/valueQuantity/value").asDouble()); // (3 - 1) x 25
        assertEquals(
                "scored under the instrument's missing-item rule: 10 of 11 items answered",
                text(score, "/note/0/text"));
    }

    /** R4, data-absent-reason: {@code error} for a value that is not valid, {@code unknown} for one that is not known. */
    @Test
    void aScaleWithoutAScoreSaysWhy() {
        JsonNode tooFew = score("B", "2025-02-25", "left", "quickdash", "total");
        assertFalse(tooFew.has("valueQuantity"));
        assertEquals("unknown", text(tooFew, "/dataAbsentReason/coding/0/code"));
        assertEquals("too few answered: 9 of 11 items answered", text(tooFew, "/dataAbsentReason/text"));
        JsonNode notAllowed = score("B", "2025-01-10", "left", "nprs", "rest");
        assertEquals("error", text(notAllowed, "/dataAbsentReason/coding/0/code"));
        assertEquals(
                4,
                score("B", "2025-01-10", "left", "nprs", "worst")
                        .at("/valueQuantity/value")
                        .asDouble());
    }

    @Test
    void aTScoreCarriesItsStandardError() {
        JsonNode score = score("B", "2025-01-10", "left", "promispf4a", "tscore");
        assertEquals(57.0, score.at("/valueQuantity/value").asDouble());
        assertEquals("T-score", text(score, "/valueQuantity/unit"));
        assertEquals("standard-error", text(score, "/component/0/code/coding/0/code"));
        assertEquals(6.6, score.at("/component/0/valueQuantity/value").asDouble());
    }

    /** R4, v3-ObservationInterpretation: B is better, W worse. The MCID of 14 is that of Sorensen 2013 (source of the definition). */
    @Test
    void aChangeIsDerivedFromBothScoresAndTellsTheVerdict() {
        String before = key("A", "2025-01-09", "right", "prwe");
        JsonNode change = score("A", "2025-02-25", "right", "prwe", "total-change");
        assertEquals(-40, change.at("/valueQuantity/value").asDouble());
        assertEquals("prwe-total-change", text(change, "/code/coding/0/code"));
        assertEquals("B", text(change, "/interpretation/0/coding/0/code"));
        assertEquals("important-improvement", text(change, "/interpretation/0/coding/1/code"));
        assertEquals(
                List.of(
                        "Observation/" + key("A", "2025-02-25", "right", "prwe") + "-total",
                        "Observation/" + before + "-total"),
                list(change.get("derivedFrom")).stream()
                        .map(d -> text(d, "/reference"))
                        .toList());
        assertEquals(
                Map.of("improvement", 40.0, "mcid", 14.0),
                list(change.get("component")).stream()
                        .collect(Collectors.toMap(c -> text(c, "/code/coding/0/code"), c -> c.at("/valueQuantity/value")
                                .asDouble())));
        assertTrue(text(change, "/note/0/text").endsWith("A threshold holds for the population it came from."));
    }

    private String interpretation(int before, int after) {
        InventedClinic clinic = InventedClinic.of(
                folder,
                EPISODES,
                HEADER
                        + InventedClinic.answers(A, "quickdash", 1, 11, before)
                        + InventedClinic.answers(A_LATER, "quickdash", 1, 11, after));
        String id = clinic.keys().form(List.of("A", "2025-02-25", "right", "quickdash")) + "-total-change";
        JsonNode change = resources(files(clinic.sent(WEEKS), false)).get("Observation/" + id);
        return list(change.at("/interpretation/0/coding")).stream()
                .map(c -> text(c, "/code"))
                .collect(Collectors.joining(" "));
    }

    /** An item-point is 25 of 100 on all eleven items, more than the MDC of 12.85 and the MCID of 14. */
    @Test
    void worseIsW() {
        assertEquals("B important-improvement", interpretation(3, 2));
        assertEquals("no-important-change", interpretation(3, 3));
        assertEquals("W important-worsening", interpretation(2, 3));
    }

    @Test
    void aChangeWithoutABaselineSaysSo() {
        InventedClinic clinic =
                InventedClinic.of(folder, EPISODES, HEADER + InventedClinic.answers(A_LATER, "prwe", 1, 15, 2));
        String id = clinic.keys().form(List.of("A", "2025-02-25", "right", "prwe")) + "-total-change";
        JsonNode change = resources(files(clinic.sent(WEEKS), false)).get("Observation/" + id);
        assertFalse(change.has("valueQuantity"));
        assertEquals("not-applicable", text(change, "/dataAbsentReason/coding/0/code"));
        assertEquals("not-assessable", text(change, "/interpretation/0/coding/0/code"));
        assertEquals(1, change.get("derivedFrom").size());
    }

    // ---- definitions

    @Test
    void everyCodingIsOfAConceptOfTheVersionThatIsSent() {
        MemoryFiles files = files(clinic().sent(WEEKS), false);
        Set<String> defined = new HashSet<>();
        int systems = 0;
        for (JsonNode resource : resources(files).values()) {
            if (text(resource, "/resourceType").equals("CodeSystem")) {
                assertEquals(
                        resource.get("count").asInt(), resource.get("concept").size());
                assertEquals("complete", text(resource, "/content"));
                list(resource.get("concept"))
                        .forEach(c -> defined.add(
                                text(resource, "/url") + "|" + text(resource, "/version") + "#" + text(c, "/code")));
                systems++;
            }
        }
        assertTrue(systems > 5, "only " + systems);
        int[] seen = new int[1];
        resources(files)
                .values()
                .forEach(r -> codings(r, coding -> {
                    assertTrue(
                            defined.contains(text(coding, "/system") + "|" + text(coding, "/version") + "#"
                                    + text(coding, "/code")),
                            coding.toString());
                    seen[0]++;
                }));
        assertTrue(seen[0] > 50, "only " + seen[0]);
        assertTrue(defined.stream().anyMatch(d -> d.endsWith("#important-worsening")), "whole, whatever is sent");
    }

    /** Codings of our systems, wherever they stand. */
    private static void codings(JsonNode node, java.util.function.Consumer<JsonNode> taker) {
        if (node.isObject() && node.has("code") && text(node, "/system").startsWith(BASE + "/CodeSystem/")) {
            taker.accept(node);
        }
        node.forEach(child -> codings(child, taker));
    }

    @Test
    void aQuestionnaireHasTopicsOrdinalsAndScoresThatNobodyAnswers() {
        JsonNode form = resource("Questionnaire/lumbrical-quickdash-1");
        assertEquals("active", text(form, "/status"));
        JsonNode item = form.at("/item/0");
        assertEquals("choice", text(item, "/type"));
        assertEquals(
                List.of(1, 2, 3, 4, 5),
                list(item.get("answerOption")).stream()
                        .map(o -> o.at("/valueCoding/extension/0/valueDecimal").asInt())
                        .toList());
        assertEquals(
                "http://hl7.org/fhir/StructureDefinition/ordinalValue",
                text(item, "/answerOption/0/valueCoding/extension/0/url"));
        List<JsonNode> scores = list(form.get("item")).stream()
                .filter(i -> i.path("readOnly").asBoolean())
                .toList();
        assertEquals(
                List.of("score_total", "score_work", "score_sport"),
                scores.stream().map(i -> text(i, "/linkId")).toList());
        scores.forEach(score -> {
            assertEquals("decimal", text(score, "/type"));
            assertEquals(
                    "http://hl7.org/fhir/uv/sdc/StructureDefinition/sdc-questionnaire-calculatedExpression",
                    text(score, "/extension/0/url"));
            assertEquals("text/fhirpath", text(score, "/extension/0/valueExpression/language"));
        });
        assertTrue(text(form, "/copyright").startsWith("Rights: "));
        Map<String, JsonNode> sane = resources(files(
                InventedClinic.of(folder, EPISODES, "patient,completed_on,side,sane_1\nA,2025-01-09,right,12.5\n")
                        .sent(WEEKS),
                false));
        JsonNode rating = sane.get("Questionnaire/lumbrical-sane-2").at("/item/0");
        assertEquals("decimal", text(rating, "/type"));
        assertEquals(
                List.of(0, 100),
                list(rating.get("extension")).stream()
                        .map(e -> e.get("valueDecimal").asInt())
                        .toList());
        assertTrue(sane.values().stream()
                .anyMatch(r -> r.at("/item/0/answer/0/valueDecimal").asDouble() == 12.5));
    }

    // ---- lines

    @Test
    void linesHoldTheSameResourcesAsTheBundles() {
        DeidentifiedDataset sent = clinic().sent(WEEKS);
        Map<String, JsonNode> bundled = resources(files(sent, false));
        MemoryFiles lines = files(sent, true);
        assertEquals(
                List.of(
                        "StructureDefinition",
                        "CodeSystem",
                        "ValueSet",
                        "Questionnaire",
                        "Patient",
                        "EpisodeOfCare",
                        "QuestionnaireResponse",
                        "Observation"),
                lines.names().stream()
                        .map(n -> n.replace("data/", "").replace(".ndjson", ""))
                        .toList());
        Map<String, JsonNode> single = new HashMap<>();
        for (String name : lines.names()) {
            List<String> text = lines.text(name).lines().toList();
            assertEquals(lines.count(name), text.size(), name);
            for (String line : text) {
                JsonNode resource = MemoryFiles.parse(line);
                assertEquals(name, "data/" + text(resource, "/resourceType") + ".ndjson");
                single.put(text(resource, "/resourceType") + "/" + text(resource, "/id"), resource);
            }
        }
        assertEquals(bundled.keySet(), single.keySet());
        // a bulk import resolves no search, so that lines name the patient by id
        bundled.forEach((reference, resource) -> assertEquals(
                resource.toString().replace("Patient?identifier=" + BASE + "/id/subject|", "Patient/"),
                single.get(reference).toString()));
    }

    // ---- corrections

    private static Map<String, String> statuses(MemoryFiles files) {
        Map<String, String> statuses = new HashMap<>();
        resources(files).forEach((reference, resource) -> {
            if (reference.startsWith("QuestionnaireResponse") || reference.startsWith("Observation")) {
                statuses.put(reference, text(resource, "/status"));
            }
        });
        return statuses;
    }

    private static Set<String> amended(MemoryFiles files) {
        return statuses(files).entrySet().stream()
                .filter(e -> e.getValue().equals("amended"))
                .map(Map.Entry::getKey)
                .collect(Collectors.toCollection(TreeSet::new));
    }

    @Test
    void onlyWhatChangedIsAmendedWhateverTheKindOfFile() {
        SendingLog first = new SendingLog(SentRecords.NONE);
        assertEquals(Set.of(), amended(files(clinic().sent(WEEKS), false, first)));
        SendingLog again = new SendingLog(first.after());
        assertEquals(Set.of(), amended(files(clinic().sent(WEEKS), false, again)));
        SendingLog asLines = new SendingLog(first.after());
        files(clinic().sent(WEEKS), true, asLines);
        assertEquals(Map.of(), asLines.amended(), "the reference by search and by id mean the same");
        String corrected = RESPONSES.replace(A_LATER + ",prwe,15,2", A_LATER + ",prwe,15,4");
        assertNotEquals(RESPONSES, corrected);
        SendingLog second = new SendingLog(first.after());
        Set<String> amended =
                amended(files(InventedClinic.of(folder, EPISODES, corrected).sent(WEEKS), false, second));
        String form = key("A", "2025-02-25", "right", "prwe");
        assertEquals(
                Set.of(
                        "QuestionnaireResponse/" + form,
                        "Observation/" + form + "-function",
                        "Observation/" + form + "-total",
                        "Observation/" + form + "-function-change",
                        "Observation/" + form + "-total-change"),
                amended);
        assertEquals(Map.of("Observation", 4, "QuestionnaireResponse", 1), second.amended());
    }

    @Test
    void whoReturnsIsPutByIdIntoABundleOfTheirOwn() {
        SendingLog first = new SendingLog(SentRecords.NONE);
        files(clinic().sent(WEEKS), false, first);
        SendingLog without = new SendingLog(first.after());
        String refusing = EPISODES.replace("closed_reason\n", "closed_reason,share\n")
                .replace("moved\n", "moved,no\n")
                .replace("1930,,\n", "1930,,,\n");
        MemoryFiles refused =
                files(InventedClinic.of(folder, refusing, RESPONSES).sent(WEEKS), false, without);
        List<String> deleted = entries(refused, "withdrawn").stream()
                .map(e -> text(e, "/request/method") + " "
                        + text(e, "/request/url").replaceAll("[/?].*", ""))
                .toList();
        assertEquals("DELETE Patient", deleted.get(deleted.size() - 1));
        assertEquals("DELETE EpisodeOfCare", deleted.get(deleted.size() - 2));
        assertEquals(first.after().records().size(), resourcesOf(refused, "SB") + deleted.size());
        assertFalse(resources(refused).containsKey("Patient/SA"));
        SendingLog back = new SendingLog(without.after());
        MemoryFiles returned = files(clinic().sent(WEEKS), false, back);
        assertEquals(List.of("data/bundle-00001.json", "data/bundle-00002.json"), returned.names());
        Map<String, String> urls = list(returned.json("data/bundle-00001.json").get("entry")).stream()
                .filter(e -> text(e, "/resource/resourceType").equals("Patient"))
                .collect(Collectors.toMap(e -> text(e, "/resource/id"), e -> text(e, "/request/url")));
        assertEquals(Map.of("SA", "Patient/SA", "SB", "Patient?identifier=" + BASE + "/id/subject|SB"), urls);
        assertTrue(entries(returned, "withdrawn").isEmpty());
    }

    /** Resources about a subject: all but definitions, in a folder that holds no other subject. */
    private static long resourcesOf(MemoryFiles files, String subject) {
        assertTrue(resources(files).containsKey("Patient/" + subject));
        return resources(files).keySet().stream()
                .filter(r -> r.startsWith("Patient/")
                        || r.startsWith("EpisodeOfCare/")
                        || r.startsWith("QuestionnaireResponse/")
                        || r.startsWith("Observation/"))
                .count();
    }

    /** Whatever refers to another is deleted before it, or in the same transaction; scores of a form refer to each other. */
    @Test
    void deletionsComeInAnOrderInWhichTheyCanBe() {
        SendingLog all = new SendingLog(SentRecords.NONE);
        MemoryFiles sent = files(clinic().sent(WEEKS), false, all);
        SendingLog none = new SendingLog(all.after());
        List<List<BundleEntry>> groups = Withdrawal.entries(none.withdrawn());
        Map<String, Integer> place = new HashMap<>();
        for (int i = 0; i < groups.size(); i++) {
            for (BundleEntry entry : groups.get(i)) {
                place.put(entry.url().replace("Patient?identifier=" + BASE + "/id/subject|", "Patient/"), i);
            }
        }
        assertEquals(none.withdrawn().records().size(), place.size());
        int[] seen = new int[1];
        resources(sent).forEach((reference, resource) -> {
            if (place.containsKey(reference)) {
                references(resource).forEach(to -> {
                    assertTrue(place.get(reference) <= place.get(to), reference + " before " + to);
                    seen[0]++;
                });
            }
        });
        assertTrue(seen[0] > 30, "only " + seen[0]);
    }

    private static List<String> references(JsonNode node) {
        List<String> found = new ArrayList<>();
        if (node instanceof ObjectNode object && object.path("reference").isTextual()) {
            found.add(text(object, "/reference").replace("Patient?identifier=" + BASE + "/id/subject|", "Patient/"));
        }
        node.forEach(child -> found.addAll(references(child)));
        return found;
    }

    // ---- size

    /** 90 forms of the PRWE with three scores and their changes, beside patients, episodes and definitions. */
    @Test
    void noTransactionHasMoreThanFourHundredEntriesAndAFormStaysWithItsScores() {
        StringBuilder episodes = new StringBuilder("patient,episode,treated_side,index_date\n");
        StringBuilder responses = new StringBuilder("patient,completed_on,side,instrument,item,response\n");
        for (int i = 0; i < 90; i++) {
            episodes.append("P").append(i).append(",1,right,2025-01-10\n");
            responses.append(InventedClinic.answers("P" + i + ",2025-01-09,right", "prwe", 1, 15, i % 11));
        }
        MemoryFiles files = files(
                InventedClinic.of(folder, episodes.toString(), responses.toString())
                        .sent(WEEKS),
                false);
        assertEquals(List.of("data/bundle-00001.json", "data/bundle-00002.json"), files.names());
        Map<String, String> bundleOf = new HashMap<>();
        for (String name : files.names()) {
            assertTrue(files.json(name).get("entry").size() <= 400, name);
            list(files.json(name).get("entry"))
                    .forEach(
                            e -> bundleOf.put(text(e, "/resource/resourceType") + "/" + text(e, "/resource/id"), name));
        }
        assertTrue(files.json("data/bundle-00001.json").get("entry").size() > 390);
        int[] seen = new int[1];
        resources(files).forEach((reference, resource) -> {
            if (reference.startsWith("Observation/")) {
                assertEquals(
                        bundleOf.get(text(resource, "/derivedFrom/0/reference")), bundleOf.get(reference), reference);
                seen[0]++;
            }
        });
        assertEquals(270, seen[0]);
    }

    // ---- what is told of it

    @Test
    void everyElementThatLeavesIsTold() {
        MemoryFiles files = new MemoryFiles();
        FhirFiles.Written written = FhirFiles.write(
                clinic().sent(WEEKS),
                new FhirFiles.FhirSettings(false, ExternalCodes.NONE),
                new SendingLog(SentRecords.NONE),
                files);
        Set<String> told = written.left().stream()
                .map(e -> e.file() + " " + e.field())
                .collect(Collectors.toCollection(TreeSet::new));
        Set<String> held = new TreeSet<>();
        resources(files).values().forEach(r -> r.fieldNames().forEachRemaining(name -> {
            if (!name.equals("resourceType") && !name.equals("extension")) {
                held.add(text(r, "/resourceType") + " " + name);
            }
        }));
        assertEquals(
                held,
                told.stream().filter(t -> !t.contains("extension(")).collect(Collectors.toCollection(TreeSet::new)));
        assertTrue(told.contains("Patient extension(attribute)"));
        assertTrue(told.contains("Observation extension(workflow-episodeOfCare)"));
        assertTrue(written.dictionary().stream()
                .anyMatch(e -> e.file().equals("Patient") && e.field().equals("gender")));
    }
}
