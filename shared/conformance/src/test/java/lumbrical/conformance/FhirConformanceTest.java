package lumbrical.conformance;

import static org.junit.jupiter.api.Assertions.assertArrayEquals;
import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.nio.file.Path;
import java.util.HashMap;
import java.util.HashSet;
import java.util.List;
import java.util.Map;
import java.util.Set;
import java.util.TreeMap;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import java.util.stream.Collectors;
import java.util.stream.Stream;
import lumbrical.catalogue.Catalogue;
import lumbrical.deidentify.DeidentifiedDataset;
import lumbrical.deidentify.Profile;
import lumbrical.deidentify.SendingLog;
import lumbrical.deidentify.SentRecords;
import lumbrical.fhir.ExternalCodes;
import lumbrical.fhir.FhirFiles;
import org.hl7.fhir.r4.model.Bundle;
import org.hl7.fhir.r4.model.CodeSystem;
import org.hl7.fhir.r4.model.CodeType;
import org.hl7.fhir.r4.model.CodeableConcept;
import org.hl7.fhir.r4.model.Coding;
import org.hl7.fhir.r4.model.DecimalType;
import org.hl7.fhir.r4.model.MetadataResource;
import org.hl7.fhir.r4.model.Observation;
import org.hl7.fhir.r4.model.Patient;
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
    private static final String NO_PACKAGE = "Error generating Snapshot: Unable to resolve package id"
            + " hl7.fhir.r4.core#null (this usually arises from a problem in the differential)";

    private static final Pattern REFERENCE = Pattern.compile("\"reference\":\"([^\"]*)\"");

    @TempDir
    private static Path folder;

    private static Clinics.Files demo;
    private static Clinics.Files files;
    private static SentRecords sent;
    private static DeidentifiedDataset shipment;
    private static FhirValidation validation;

    @BeforeAll
    static void write() {
        GeneratedClinic clinic = GeneratedClinic.of(EPISODES);
        shipment = Clinics.shipment(clinic.responses(folder), clinic.episodes(folder), Profile.DEFAULT);
        files = new Clinics.Files();
        sent = write(shipment, false, SentRecords.NONE, files);
        demo = new Clinics.Files();
        write(Clinics.demo(Profile.DEFAULT), false, SentRecords.NONE, demo);
        validation = new FhirValidation(definitions());
    }

    /** Writes the files and says what the receiver knows then. */
    private static SentRecords write(
            DeidentifiedDataset shipment, boolean lines, SentRecords before, Clinics.Files files) {
        SendingLog log = new SendingLog(before);
        FhirFiles.write(shipment, new FhirFiles.FhirSettings(lines, ExternalCodes.NONE), log, files);
        return log.after();
    }

    /** The definitions, which the first Bundles begin with. */
    private static Bundle definitions() {
        Bundle definitions = new Bundle();
        bundles(files).stream()
                .flatMap(name -> FhirValidation.bundle(files.text(name)).getEntry().stream())
                .filter(entry -> entry.getResource() instanceof MetadataResource)
                .forEach(definitions::addEntry);
        return definitions;
    }

    private static List<String> bundles(Clinics.Files of) {
        return of.content().keySet().stream()
                .filter(name -> name.startsWith("data/bundle-"))
                .toList();
    }

    /** Errors, but for the snapshot that the validator cannot make. */
    private static List<String> errors(String json) {
        return withoutSnapshot(validation.errors(json));
    }

    private static List<String> withoutSnapshot(List<String> errors) {
        return errors.stream().filter(error -> !error.endsWith(NO_PACKAGE)).toList();
    }

    /** Whether Bundles are valid; how often each kind of warning or information is told of them. */
    private static Map<String, Integer> remarksOnValidBundles(Clinics.Files of) {
        Map<String, Integer> kinds = new TreeMap<>();
        for (String name : bundles(of)) {
            FhirValidation.Findings findings = validation.findings(of.text(name));
            assertEquals(List.of(), withoutSnapshot(findings.errors()), name);
            findings.remarks().forEach((kind, times) -> kinds.merge(kind, times, Integer::sum));
        }
        return kinds;
    }

    @Test
    void definitionsOfEveryInstrumentAreValid() {
        int questionnaires = 0;
        for (Bundle.BundleEntryComponent entry : definitions().getEntry()) {
            assertEquals(List.of(), errors(FhirValidation.json(entry.getResource())), entry.getFullUrl());
            questionnaires += entry.getResource().fhirType().equals("Questionnaire") ? 1 : 0;
        }
        assertEquals(Catalogue.builtIn().all().size(), questionnaires, "every instrument is in use");
        assertTrue(questionnaires >= 25, "only " + questionnaires + " instruments were seen");
    }

    private static final String NARRATIVE = "http://hl7.org/fhir/StructureDefinition/DomainResource#dom-6";
    private static final String ANNOTATION = "TYPE_SPECIFIC_CHECKS_DT_QTY_UCUM_ANNOTATIONS";
    private static final String INTERPRETATION = "Terminology_TX_NoValid_2_CC interpretation";
    private static final String PERFORMER = "All_observations_should_have_a_performer";

    /** What the validator remarks, by its own kinds; docs/registry/fhir.md explains each. No file of this clinic tells who answered. */
    @Test
    void bundlesOfTheGeneratedClinicAreValid() {
        assertTrue(!bundles(files).isEmpty());
        assertEquals(
                Set.of(NARRATIVE, ANNOTATION, INTERPRETATION, PERFORMER),
                remarksOnValidBundles(files).keySet());
    }

    /**
     * The numbers hold against what is counted in the files themselves: a remark for each quantity in {score} and each interpretation. One
     * that carries the standard's B or W is remarked too, although its value set holds the whole system of these codes.
     */
    @Test
    void bundlesOfTheDemoClinicAreValid() {
        assertEquals(6, bundles(demo).size());
        Map<String, Integer> remarks = remarksOnValidBundles(demo);
        int interpretations = 0;
        int quantities = 0;
        for (Observation score : resources(demo, Observation.class).toList()) {
            quantities += FhirValidation.json(score).split("\"code\":\"\\{score}\"", -1).length - 1;
            interpretations += score.getInterpretation().size();
        }
        assertEquals(Set.of(NARRATIVE, ANNOTATION, INTERPRETATION), remarks.keySet());
        assertEquals(quantities, remarks.get(ANNOTATION));
        assertEquals(interpretations, remarks.get(INTERPRETATION));
        assertTrue(quantities > 1000 && interpretations > 100, quantities + " " + interpretations);
    }

    /**
     * Loads the Bundles in their order as a server does: every reference must be to what is there by then, a conditional one to the one
     * resource that has the identifier, and no Bundle may have more entries than a large service takes.
     */
    @Test
    void everyReferenceIsToWhatWasLoadedByThen() {
        Set<String> loaded = new HashSet<>();
        Set<String> identifiers = new HashSet<>();
        int seen = 0;
        for (String name : bundles(demo)) {
            Bundle bundle = FhirValidation.bundle(demo.text(name));
            assertTrue(bundle.getEntry().size() <= 400, name);
            for (Bundle.BundleEntryComponent entry : bundle.getEntry()) {
                assertEquals(Bundle.HTTPVerb.PUT, entry.getRequest().getMethod());
                String type = entry.getResource().fhirType();
                String id = entry.getResource().getIdElement().getIdPart();
                assertTrue(id.matches("[A-Za-z0-9.-]{1,64}"), id);
                assertEquals(Clinics.BASE + "/" + type + "/" + id, entry.getFullUrl());
                if (entry.getResource() instanceof Patient patient) {
                    String condition = "Patient?identifier="
                            + patient.getIdentifierFirstRep().getSystem() + "|"
                            + patient.getIdentifierFirstRep().getValue();
                    assertEquals(condition, entry.getRequest().getUrl());
                    assertTrue(identifiers.add(condition), condition);
                } else if (entry.getResource() instanceof MetadataResource definition) {
                    assertEquals(
                            type + "?url=" + definition.getUrl() + "&version=" + definition.getVersion(),
                            entry.getRequest().getUrl());
                } else {
                    assertEquals(type + "/" + id, entry.getRequest().getUrl());
                }
                assertTrue(loaded.add(type + "/" + id), id);
            }
            Matcher matcher = REFERENCE.matcher(demo.text(name));
            while (matcher.find()) {
                String reference = matcher.group(1);
                assertTrue(loaded.contains(reference) || identifiers.contains(reference), name + ": " + reference);
                seen++;
            }
        }
        assertTrue(seen > 1000, "only " + seen + " references were seen");
        assertEquals(47, identifiers.size());
    }

    /** The second of two clinics that use one instrument brings the same code system; no version is there with two contents. */
    @Test
    void codeSystemsOfAllClinicsStandBesideEachOther() {
        Map<String, String> contents = new HashMap<>();
        int seen = 0;
        for (Clinics.Files clinic : List.of(demo, files)) {
            for (String name : bundles(clinic)) {
                for (Bundle.BundleEntryComponent entry :
                        FhirValidation.bundle(clinic.text(name)).getEntry()) {
                    if (entry.getResource() instanceof CodeSystem system) {
                        String json = FhirValidation.json(system);
                        assertEquals(
                                json, contents.computeIfAbsent(system.getUrl() + "|" + system.getVersion(), k -> json));
                        seen++;
                    }
                }
            }
        }
        assertTrue(seen > contents.size(), "none is in both clinics");
    }

    @Test
    void everyCodingOfOursCarriesTheVersionOfItsSystem() {
        Map<String, String> versions = new HashMap<>();
        definitions().getEntry().stream()
                .map(Bundle.BundleEntryComponent::getResource)
                .filter(CodeSystem.class::isInstance)
                .map(CodeSystem.class::cast)
                .forEach(system -> versions.put(system.getUrl(), system.getVersion()));
        Pattern coding = Pattern.compile(
                "\"system\":\"(" + Clinics.BASE + "/CodeSystem/[^\"]*)\",\"version\":\"([^\"]*)\",\"code\"");
        int all = 0;
        int versioned = 0;
        for (String name : bundles(files)) {
            all += files.text(name)
                            .split(
                                    "\"system\":\"" + Clinics.BASE
                                            + "/CodeSystem/[^\"]*\",\"(version\":\"[^\"]*\",\")?code\"",
                                    -1)
                            .length
                    - 1;
            Matcher matcher = coding.matcher(files.text(name));
            while (matcher.find()) {
                assertEquals(versions.get(matcher.group(1)), matcher.group(2), matcher.group(1));
                versioned++;
            }
        }
        assertTrue(all > 1000, "only " + all + " codings were seen");
        assertEquals(all, versioned);
    }

    @Test
    void noPossibleRangeIsGivenAsANormalOne() {
        for (String name : bundles(files)) {
            assertFalse(files.text(name).contains("referenceRange"), name);
        }
    }

    @Test
    void linesAreValidAndHoldTheResourcesOfTheBundles() {
        Clinics.Files lines = new Clinics.Files();
        write(shipment, true, SentRecords.NONE, lines);
        Set<String> ids = bundles(files).stream()
                .flatMap(name -> FhirValidation.bundle(files.text(name)).getEntry().stream())
                .map(e -> e.getResource().fhirType() + "/"
                        + e.getResource().getIdElement().getIdPart())
                .collect(Collectors.toSet());
        int seen = 0;
        for (String type : List.of("Patient", "EpisodeOfCare", "QuestionnaireResponse", "Observation")) {
            String text = lines.text("data/" + type + ".ndjson");
            assertFalse(text.contains("?identifier="), type);
            for (String line : text.lines().limit(10).toList()) {
                assertEquals(List.of(), validation.errors(line), type);
                seen++;
            }
        }
        assertEquals(40, seen);
        Set<String> ofLines = lines.content().keySet().stream()
                .flatMap(name -> lines.text(name).lines())
                .map(line -> (Resource) FhirValidation.R4.newJsonParser().parseResource(line))
                .map(r -> r.fhirType() + "/" + r.getIdElement().getIdPart())
                .collect(Collectors.toSet());
        assertEquals(ids, ofLines);
    }

    @Test
    void sendingTheSameTwiceChangesNoByte() {
        Clinics.Files again = new Clinics.Files();
        assertEquals(sent, write(shipment, false, sent, again));
        assertEquals(files.content().keySet(), again.content().keySet());
        files.content()
                .forEach((name, bytes) ->
                        assertArrayEquals(bytes, again.content().get(name), name));
        Clinics.Files lines = new Clinics.Files();
        assertEquals(sent, write(shipment, true, sent, lines), "Bundles and lines are the same content");
    }

    @Test
    void aCorrectedFormIsAmendedAndNothingElse() {
        Map<SentRecords.Key, SentRecords.Sent> before = new HashMap<>(sent.records());
        SentRecords.Key form = before.keySet().stream()
                .filter(k -> k.table().equals("QuestionnaireResponse"))
                .sorted()
                .findFirst()
                .orElseThrow();
        before.put(form, new SentRecords.Sent("SUBJECT", "another-hash", SentRecords.State.FIRST));
        Clinics.Files corrected = new Clinics.Files();
        SentRecords after = write(shipment, false, new SentRecords(before), corrected);
        assertEquals(
                List.of(form),
                after.records().entrySet().stream()
                        .filter(r -> r.getValue().state() == SentRecords.State.AMENDED)
                        .map(Map.Entry::getKey)
                        .toList());
        QuestionnaireResponse amended = resources(corrected, QuestionnaireResponse.class)
                .filter(q -> q.getStatus() == QuestionnaireResponse.QuestionnaireResponseStatus.AMENDED)
                .findFirst()
                .orElseThrow();
        assertEquals(form.key(), amended.getIdentifier().getValue());
        assertEquals(List.of(), validation.errors(FhirValidation.json(amended)));
    }

    @Test
    void whatIsNoLongerSentIsDeletedAndStaysSo() {
        Map<SentRecords.Key, SentRecords.Sent> before = new HashMap<>(sent.records());
        for (String gone : List.of(
                "Patient GONE",
                "EpisodeOfCare GONE-1",
                "QuestionnaireResponse GONEGONEGONEGONEGONE",
                "Observation GONEGONEGONEGONEGONE-total",
                "Observation GONEGONEGONEGONEGONE-total-change")) {
            before.put(
                    new SentRecords.Key(gone.substring(0, gone.indexOf(' ')), gone.substring(gone.indexOf(' ') + 1)),
                    new SentRecords.Sent("GONE", "any", SentRecords.State.FIRST));
        }
        Clinics.Files now = new Clinics.Files();
        SentRecords second = write(shipment, false, new SentRecords(before), now);
        Bundle withdrawn = FhirValidation.bundle(now.text("data/withdrawn-00001.json"));
        assertEquals(List.of(), validation.errors(now.text("data/withdrawn-00001.json")));
        assertEquals(
                List.of(
                        "DELETE Observation/GONEGONEGONEGONEGONE-total-change",
                        "DELETE Observation/GONEGONEGONEGONEGONE-total",
                        "DELETE QuestionnaireResponse/GONEGONEGONEGONEGONE",
                        "DELETE EpisodeOfCare/GONE-1",
                        "DELETE Patient?identifier=" + Clinics.BASE + "/id/subject|GONE"),
                withdrawn.getEntry().stream()
                        .map(e -> e.getRequest().getMethod() + " "
                                + e.getRequest().getUrl())
                        .toList());
        Clinics.Files again = new Clinics.Files();
        assertEquals(second, write(shipment, false, second, again));
        assertEquals(now.text("data/withdrawn-00001.json"), again.text("data/withdrawn-00001.json"));
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
                .filter(e -> e.getUrl().endsWith("workflow-episodeOfCare"))
                .findFirst()
                .orElseThrow()
                .setValue(new StringType("three"));
        assertFalse(validation.errors(FhirValidation.json(form)).isEmpty());
        QuestionnaireResponse other = formOf("quickdash");
        other.addExtension(Clinics.BASE + "/StructureDefinition/nothing-of-ours", new CodeType("x"));
        assertFalse(validation.errors(FhirValidation.json(other)).isEmpty());
    }
}
