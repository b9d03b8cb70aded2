package lumbrical.fhir;

import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import lumbrical.output.DictionaryEntry;

/** What the elements of our resources hold. */
final class FhirDictionary {
    static final List<DictionaryEntry> ENTRIES = List.of(
            entry("EpisodeOfCare", "identifier", "episode", "Identifier", "", "pseudonym of the episode"),
            entry("EpisodeOfCare", "patient.identifier", "patient", "Identifier", "", "pseudonym of the patient"),
            entry(
                    "EpisodeOfCare",
                    "period.start",
                    "index date",
                    "dateTime",
                    "a year",
                    "index_date; shifted if dates are"),
            entry(
                    "EpisodeOfCare",
                    "extension(attribute)",
                    "columns that the profile lets through",
                    "Extension",
                    "name and value",
                    "treated_side and columns of the episodes"),
            entry(
                    "QuestionnaireResponse",
                    "identifier",
                    "form",
                    "Identifier",
                    "",
                    "a keyed hash of patient, date, side and instrument"),
            entry("QuestionnaireResponse", "questionnaire", "instrument and version", "canonical", "", "definition"),
            entry(
                    "QuestionnaireResponse",
                    "status",
                    "status",
                    "code",
                    "completed amended",
                    "amended after a correction"),
            entry(
                    "QuestionnaireResponse",
                    "authored",
                    "sitting",
                    "dateTime",
                    "a year",
                    "completed_on; shifted if dates are"),
            entry(
                    "QuestionnaireResponse",
                    "extension(days-from-index)",
                    "day of the sitting",
                    "integer",
                    "",
                    "completed_on less index_date"),
            entry(
                    "QuestionnaireResponse",
                    "item.answer",
                    "response",
                    "Coding or decimal",
                    "codes of the item",
                    "item columns; no answer = left blank; data-absent-reason error = a response that is not allowed"),
            entry("Observation", "code", "scale, or its change", "CodeableConcept", "CodeSystem/scores", "scale"),
            entry(
                    "Observation",
                    "value",
                    "score or change",
                    "Quantity",
                    "{score}",
                    "score; change = follow-up less baseline"),
            entry("Observation", "dataAbsentReason", "why there is no score", "CodeableConcept", "", "reason"),
            entry("Observation", "component", "subscales, standard error, thresholds", "BackboneElement", "", "scale"),
            entry(
                    "Observation",
                    "referenceRange",
                    "possible range and its better end",
                    "BackboneElement",
                    "",
                    "definition"),
            entry("Observation", "bodySite.text", "side", "string", "", "side"),
            entry("Observation", "method.text", "rule", "string", "", "definition"),
            entry(
                    "Observation",
                    "interpretation",
                    "verdict on a change",
                    "CodeableConcept",
                    "CodeSystem/verdicts",
                    "verdict"),
            entry(
                    "Observation",
                    "note",
                    "missing-item rule; sources of thresholds",
                    "Annotation",
                    "",
                    "outcome, mcid_source"),
            entry("Observation", "derivedFrom", "form, or both scores of a change", "Reference", "", ""));

    private static final Map<String, String> MEANINGS = Map.ofEntries(
            Map.entry("EpisodeOfCare meta", "site and study, as tags"),
            Map.entry("QuestionnaireResponse meta", "site and study, as tags"),
            Map.entry("Observation meta", "site and study, as tags"),
            Map.entry("EpisodeOfCare identifier", "pseudonym of the episode"),
            Map.entry("EpisodeOfCare status", "finished where it is closed, else active"),
            Map.entry("EpisodeOfCare patient", "pseudonym of the patient"),
            Map.entry("EpisodeOfCare period", "index date, as the profile lets it leave"),
            Map.entry("EpisodeOfCare extension(attribute)", "treated side, and columns that the profile lets through"),
            Map.entry("QuestionnaireResponse extension(days-from-index)", "day of the sitting from the index date"),
            Map.entry("QuestionnaireResponse extension(episode)", "pseudonym of the episode"),
            Map.entry("QuestionnaireResponse extension(attribute)", "columns that the profile lets through"),
            Map.entry("QuestionnaireResponse identifier", "key of the form"),
            Map.entry("QuestionnaireResponse questionnaire", "instrument and version"),
            Map.entry("QuestionnaireResponse status", "completed, amended or entered-in-error"),
            Map.entry("QuestionnaireResponse subject", "pseudonym of the patient"),
            Map.entry("QuestionnaireResponse authored", "the sitting, as the profile lets it leave"),
            Map.entry("QuestionnaireResponse item", "responses"),
            Map.entry("Observation extension(days-from-index)", "day of the sitting from the index date"),
            Map.entry("Observation extension(episode)", "pseudonym of the episode"),
            Map.entry("Observation identifier", "key of the score"),
            Map.entry("Observation status", "final, amended or entered-in-error"),
            Map.entry("Observation category", "that it is of a survey"),
            Map.entry("Observation code", "scale, or its change"),
            Map.entry("Observation subject", "pseudonym of the patient"),
            Map.entry("Observation effectiveDateTime", "the sitting, as the profile lets it leave"),
            Map.entry("Observation valueQuantity", "score or change"),
            Map.entry("Observation dataAbsentReason", "why there is no score"),
            Map.entry("Observation interpretation", "verdict on a change"),
            Map.entry("Observation note", "missing-item rule; sources of thresholds"),
            Map.entry("Observation bodySite", "side"),
            Map.entry("Observation method", "rule"),
            Map.entry("Observation performer", "who answered"),
            Map.entry("Observation referenceRange", "possible range and its better end"),
            Map.entry("Observation derivedFrom", "form, or both scores of a change"),
            Map.entry("Observation component", "subscales, standard error, thresholds"));

    private FhirDictionary() {}

    /**
     * What left, in words.
     *
     * @param elements by type of resource, the elements written
     * @throws IllegalStateException if an element has no meaning here: nothing leaves unsaid
     */
    static List<DictionaryEntry> left(Map<String, Set<String>> elements) {
        List<DictionaryEntry> left = new ArrayList<>();
        elements.forEach((type, names) -> names.forEach(name -> left.add(entry(
                type,
                name,
                Optional.ofNullable(MEANINGS.get(type + " " + name))
                        .orElseThrow(() -> new IllegalStateException(type + " " + name + " has no meaning")),
                "",
                "",
                ""))));
        return left;
    }

    private static DictionaryEntry entry(
            String file, String field, String label, String type, String values, String from) {
        return new DictionaryEntry(file, field, label, type, values, from);
    }
}
