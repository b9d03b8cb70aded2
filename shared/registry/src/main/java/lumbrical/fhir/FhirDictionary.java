package lumbrical.fhir;

import java.util.List;
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
                    "episode, instrument, day and number"),
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

    private FhirDictionary() {}

    private static DictionaryEntry entry(
            String file, String field, String label, String type, String values, String from) {
        return new DictionaryEntry(file, field, label, type, values, from);
    }
}
