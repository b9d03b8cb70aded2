package lumbrical.conformance;

import static org.junit.jupiter.api.Assertions.assertArrayEquals;
import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.nio.file.Path;
import java.util.ArrayList;
import java.util.HashMap;
import java.util.HashSet;
import java.util.List;
import java.util.Map;
import java.util.Set;
import java.util.function.Function;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import java.util.stream.Collectors;
import java.util.stream.Stream;
import lumbrical.catalogue.Catalogue;
import lumbrical.deidentify.DeidentifiedDataset;
import lumbrical.deidentify.Profile;
import lumbrical.fhir.ExternalCodes;
import lumbrical.fhir.FhirFiles;
import org.hl7.fhir.r4.model.Bundle;
import org.hl7.fhir.r4.model.CodeType;
import org.hl7.fhir.r4.model.CodeableConcept;
import org.hl7.fhir.r4.model.Coding;
import org.hl7.fhir.r4.model.DecimalType;
import org.hl7.fhir.r4.model.Observation;
import org.hl7.fhir.r4.model.QuestionnaireResponse;
import org.hl7.fhir.r4.model.Resource;
import org.hl7.fhir.r4.model.StringType;
import org.junit.jupiter.api.BeforeAll;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/**
 * FHIR files held against the validator of HL7 FHIR R4 (HAPI FHIR 8.8.1, offline). The invented clinic has every instrument of the
 * catalogue; its size is {@code conformance.episodes}, small in the normal build.
 */
class FhirConformanceTest {
    private static final int EPISODES = Integer.getInteger("conformance.episodes", 40);

    /** The validator cannot make a snapshot without a package of the standard, which the offline support does not name. */
    private static final String NO_PACKAGE =
            "StructureDefinition: Error generating Snapshot: Unable to resolve package id"
                    + " hl7.fhir.r4.core#null (this usually arises from a problem in the differential)";

    private static final Pattern REFERENCE = Pattern.compile("\"reference\":\"([^\"]*)\"");

    @TempDir
    private static Path folder;

    private static Clinics.Files demo;
    private static Clinics.Files files;
    private static FhirFiles.Written written;
    private static DeidentifiedDataset shipment;
    private static FhirValidation validation;

    @BeforeAll
    static void write() {
        GeneratedClinic clinic = GeneratedClinic.of(EPISODES);
        shipment = Clinics.shipment(clinic.responses(folder), clinic.episodes(folder), Profile.DEFAULT);
        files = new Clinics.Files();
        written = write(shipment, false, Map.of(), files);
        demo = new Clinics.Files();
        write(Clinics.demo(Profile.DEFAULT), false, Map.of(), demo);
        validation = new FhirValidation(FhirValidation.bundle(files.text("data/definitions.json")));
    }

    private static FhirFiles.Written write(
            DeidentifiedDataset shipment,
            boolean lines,
            Map<String, FhirFiles.SentRecord> before,
            Clinics.Files files) {
        return FhirFiles.write(
                shipment, new FhirFiles.FhirSettings(lines, 200, ExternalCodes.NONE, before, true), files);
    }

    private static List<String> bundles(Clinics.Files of) {
        return of.content().keySet().stream()
                .filter(name -> name.startsWith("data/bundle-"))
                .toList();
    }

    @Test
    void definitionsOfEveryInstrumentAreValid() {
        Bundle definitions = FhirValidation.bundle(files.text("data/definitions.json"));
        int questionnaires = 0;
        for (Bundle.BundleEntryComponent entry : definitions.getEntry()) {
            List<String> errors = new ArrayList<>(validation.errors(FhirValidation.json(entry.getResource())));
            errors.remove(NO_PACKAGE);
            assertEquals(List.of(), errors, entry.getFullUrl());
            questionnaires += entry.getResource().fhirType().equals("Questionnaire") ? 1 : 0;
        }
        assertEquals(Catalogue.builtIn().all().size(), questionnaires, "every instrument is in use");
        assertTrue(questionnaires >= 25, "only " + questionnaires + " instruments were seen");
    }

    @Test
    void bundlesOfTheGeneratedClinicAreValid() {
        assertTrue(!bundles(files).isEmpty());
        for (String name : bundles(files)) {
            assertEquals(List.of(), validation.errors(files.text(name)), name);
        }
    }

    @Test
    void bundlesOfTheDemoClinicAreValid() {
        assertEquals(4, bundles(demo).size());
        for (String name : bundles(demo)) {
            assertEquals(List.of(), validation.errors(demo.text(name)), name);
        }
    }

    @Test
    void referencesPointIntoTheirBundle() {
        int seen = 0;
        for (String name : bundles(demo)) {
            Set<String> urls = FhirValidation.bundle(demo.text(name)).getEntry().stream()
                    .map(Bundle.BundleEntryComponent::getFullUrl)
                    .collect(Collectors.toSet());
            Set<String> references = new HashSet<>();
            Matcher matcher = REFERENCE.matcher(demo.text(name));
            while (matcher.find()) {
                references.add(matcher.group(1));
                seen++;
            }
            references.removeAll(urls);
            assertEquals(Set.of(), references, name);
        }
        assertTrue(seen > 1000, "only " + seen + " references were seen");
    }

    @Test
    void linesAreValidAndReferToNoBundle() {
        Clinics.Files lines = new Clinics.Files();
        write(shipment, true, Map.of(), lines);
        int seen = 0;
        for (String type : List.of("EpisodeOfCare", "QuestionnaireResponse", "Observation")) {
            String text = lines.text("data/" + type + ".ndjson");
            assertFalse(REFERENCE.matcher(text).find(), type);
            for (String line : text.lines().limit(25).toList()) {
                assertEquals(List.of(), validation.errors(line), type);
                seen++;
            }
        }
        assertEquals(75, seen);
    }

    @Test
    void sendingTheSameTwiceChangesNoByte() {
        Clinics.Files again = new Clinics.Files();
        write(shipment, false, before(written), again);
        assertEquals(files.content().keySet(), again.content().keySet());
        files.content()
                .forEach((name, bytes) ->
                        assertArrayEquals(bytes, again.content().get(name), name));
        Clinics.Files lines = new Clinics.Files();
        write(shipment, true, before(written), lines);
        assertFalse(
                lines.text("data/Observation.ndjson").contains("amended"), "Bundles and lines are the same content");
    }

    private static Map<String, FhirFiles.SentRecord> before(FhirFiles.Written written) {
        return written.sent().stream().collect(Collectors.toMap(FhirFiles.SentRecord::identifier, Function.identity()));
    }

    @Test
    void aCorrectedFormIsAmendedAndNothingElse() {
        Map<String, FhirFiles.SentRecord> before = new HashMap<>(before(written));
        FhirFiles.SentRecord form = written.sent().get(0);
        before.put(form.identifier(), new FhirFiles.SentRecord(form.identifier(), "another content", "completed"));
        Clinics.Files corrected = new Clinics.Files();
        List<FhirFiles.SentRecord> sent =
                write(shipment, false, before, corrected).sent();
        assertEquals(
                List.of(form.identifier()),
                sent.stream()
                        .filter(r -> r.status().equals("amended"))
                        .map(FhirFiles.SentRecord::identifier)
                        .toList());
        QuestionnaireResponse amended = first(corrected, QuestionnaireResponse.class);
        assertEquals("amended", amended.getStatus().toCode());
        assertEquals(form.identifier(), amended.getIdentifier().getValue());
        assertEquals(List.of(), validation.errors(FhirValidation.json(amended)));
    }

    @Test
    void whatIsNoLongerSentIsWithdrawnAndStaysSo() {
        Map<String, FhirFiles.SentRecord> before = new HashMap<>(before(written));
        for (String gone : List.of("GONE-1-quickdash-d3", "GONE-1-quickdash-d3/total")) {
            before.put(gone, new FhirFiles.SentRecord(gone, "any", "final"));
        }
        Clinics.Files now = new Clinics.Files();
        FhirFiles.Written second = write(shipment, false, before, now);
        assertEquals(2, second.notSentNow());
        Bundle withdrawn = FhirValidation.bundle(now.text("data/withdrawn.json"));
        assertEquals(2, withdrawn.getEntry().size());
        assertEquals(List.of(), validation.errors(now.text("data/withdrawn.json")));
        withdrawn
                .getEntry()
                .forEach(e ->
                        assertTrue(FhirValidation.json(e.getResource()).contains("\"status\":\"entered-in-error\"")));
        Clinics.Files again = new Clinics.Files();
        FhirFiles.Written third = write(shipment, false, before(second), again);
        assertEquals(0, third.notSentNow());
        assertEquals(now.text("data/withdrawn.json"), again.text("data/withdrawn.json"));
    }

    private static <T extends Resource> T first(Clinics.Files of, Class<T> type) {
        return resources(of, type).findFirst().orElseThrow();
    }

    private static <T extends Resource> Stream<T> resources(Clinics.Files of, Class<T> type) {
        return bundles(of).stream()
                .flatMap(name -> FhirValidation.bundle(of.text(name)).getEntry().stream())
                .map(Bundle.BundleEntryComponent::getResource)
                .filter(type::isInstance)
                .map(type::cast);
    }

    private static QuestionnaireResponse formOf(String instrument) {
        return bundles(files).stream()
                .flatMap(name -> FhirValidation.bundle(files.text(name)).getEntry().stream())
                .map(Bundle.BundleEntryComponent::getResource)
                .filter(QuestionnaireResponse.class::isInstance)
                .map(QuestionnaireResponse.class::cast)
                .filter(q -> q.getQuestionnaire().contains("/" + instrument + "|"))
                .findFirst()
                .orElseThrow();
    }

    private static void assertRefused(Resource resource, String because) {
        List<String> errors = validation.errors(FhirValidation.json(resource));
        assertEquals(1, errors.size(), errors.toString());
        assertTrue(errors.get(0).contains(because), errors.toString());
    }

    @Test
    void theValidatorWouldSeeAWrongCode() {
        QuestionnaireResponse form = formOf("quickdash");
        Coding coding = form.getItem().stream()
                .filter(i -> i.hasAnswer())
                .findFirst()
                .orElseThrow()
                .getAnswerFirstRep()
                .getValueCoding();
        coding.setCode("7").setDisplay("7");
        assertFalse(validation.errors(FhirValidation.json(form)).isEmpty());
    }

    @Test
    void theValidatorWouldSeeAValueOutsideTheRange() {
        QuestionnaireResponse form = formOf("msacrah");
        form.getItem().stream()
                .filter(i -> i.hasAnswer())
                .findFirst()
                .orElseThrow()
                .getAnswerFirstRep()
                .setValue(new DecimalType("140"));
        assertFalse(validation.errors(FhirValidation.json(form)).isEmpty());
    }

    @Test
    void theValidatorWouldSeeAnUnknownItem() {
        QuestionnaireResponse form = formOf("quickdash");
        form.addItem().setLinkId("77");
        assertFalse(validation.errors(FhirValidation.json(form)).isEmpty());
    }

    @Test
    void theValidatorWouldSeeAValueBesideItsAbsence() {
        Observation score = resources(demo, Observation.class)
                .filter(Observation::hasValue)
                .findFirst()
                .orElseThrow();
        score.setDataAbsentReason(new CodeableConcept()
                .addCoding(new Coding("http://terminology.hl7.org/CodeSystem/data-absent-reason", "unknown", null)));
        assertRefused(score, "obs-6");
    }

    @Test
    void theValidatorWouldSeeAnObservationWithoutCodeOrWithAStatusOfItsOwn() {
        Observation score = first(demo, Observation.class);
        score.setCode(null);
        assertRefused(score, "Observation.code");
        String json = FhirValidation.json(first(demo, Observation.class)).replace("\"final\"", "\"done\"");
        assertFalse(validation.errors(json).isEmpty());
    }

    @Test
    void theValidatorWouldSeeAMisusedExtension() {
        QuestionnaireResponse form = formOf("quickdash");
        form.getExtension().stream()
                .filter(e -> e.getUrl().endsWith("days-from-index"))
                .findFirst()
                .orElseThrow()
                .setValue(new StringType("three"));
        assertFalse(validation.errors(FhirValidation.json(form)).isEmpty());
        QuestionnaireResponse other = formOf("quickdash");
        other.addExtension(Clinics.BASE + "/StructureDefinition/nothing-of-ours", new CodeType("x"));
        assertFalse(validation.errors(FhirValidation.json(other)).isEmpty());
    }
}
