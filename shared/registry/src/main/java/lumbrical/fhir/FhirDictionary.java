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
            entry("Patient", "identifier", "patient", "Identifier", "", "pseudonym of the patient"),
            entry("Patient", "gender", "sex", "code", "male female other unknown", "sex"),
            entry(
                    "Patient",
                    "extension(attribute)",
                    "age at the first episode sent",
                    "Extension",
                    "name and value",
                    "birth_year and index_date"),
            entry("EpisodeOfCare", "identifier", "episode", "Identifier", "", "pseudonym of the episode"),
            entry("EpisodeOfCare", "patient", "patient", "Reference", "", "patient"),
            entry(
                    "EpisodeOfCare",
                    "period.start",
                    "index date",
                    "dateTime",
                    "a year or a shifted date; absent where weeks are sent",
                    "index_date"),
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
                    "relative to the start of the episode, in weeks or days (extension relative-date)",
                    "completed_on less index_date; a year or a shifted date where the profile sends one"),
            entry(
                    "QuestionnaireResponse",
                    "extension(attribute)",
                    "side written on the form",
                    "Extension",
                    "name and value",
                    "side"),
            entry("QuestionnaireResponse", "source", "who answered", "Reference", "", "respondent"),
            entry("QuestionnaireResponse", "language", "language of the form", "code", "ISO 639", "language"),
            entry(
                    "QuestionnaireResponse",
                    "extension(questionnaireresponse-completionMode)",
                    "how it was filled in",
                    "CodeableConcept",
                    "WRITTEN ELECTRONIC VERBAL",
                    "mode"),
            entry(
                    "QuestionnaireResponse",
                    "item.answer",
                    "response",
                    "Coding or decimal",
                    "codes of the item",
                    "item columns; no answer = left blank; data-absent-reason error = a response that is not allowed"),
            entry(
                    "Observation",
                    "code",
                    "scale, or its change",
                    "CodeableConcept",
                    "CodeSystem of the instrument",
                    "scale"),
            entry(
                    "Observation",
                    "value",
                    "score or change",
                    "Quantity",
                    "{score}",
                    "score; change = follow-up less baseline"),
            entry("Observation", "dataAbsentReason", "why there is no score", "CodeableConcept", "", "reason"),
            entry("Observation", "hasMember", "subscales of a total", "Reference", "", "scale"),
            entry("Observation", "component", "standard error; improvement, thresholds", "BackboneElement", "", ""),
            entry("Observation", "bodySite.text", "side", "string", "", "side"),
            entry("Observation", "method.text", "rule and the better end", "string", "", "definition"),
            entry(
                    "Observation",
                    "interpretation",
                    "verdict on a change",
                    "CodeableConcept",
                    "B W and CodeSystem/verdicts",
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
            Map.entry("Patient id", "pseudonym of the patient"),
            Map.entry("Patient meta", "site and study, as tags"),
            Map.entry("Patient extension(attribute)", "age at the first episode sent, as the profile lets it leave"),
            Map.entry("Patient identifier", "pseudonym of the patient"),
            Map.entry("Patient gender", "sex"),
            Map.entry("EpisodeOfCare id", "pseudonym of the episode"),
            Map.entry("EpisodeOfCare meta", "site and study, as tags"),
            Map.entry("EpisodeOfCare identifier", "pseudonym of the episode"),
            Map.entry("EpisodeOfCare status", "finished where a closure is sent, else active"),
            Map.entry("EpisodeOfCare patient", "pseudonym of the patient"),
            Map.entry("EpisodeOfCare period", "index date, as the profile lets it leave"),
            Map.entry("EpisodeOfCare extension(attribute)", "treated side, and columns that the profile lets through"),
            Map.entry("QuestionnaireResponse id", "key of the form"),
            Map.entry("QuestionnaireResponse meta", "site and study, as tags"),
            Map.entry("QuestionnaireResponse language", "language of the form"),
            Map.entry("QuestionnaireResponse extension(workflow-episodeOfCare)", "pseudonym of the episode"),
            Map.entry("QuestionnaireResponse extension(attribute)", "side written on the form"),
            Map.entry("QuestionnaireResponse extension(questionnaireresponse-completionMode)", "how it was filled in"),
            Map.entry("QuestionnaireResponse identifier", "key of the form"),
            Map.entry("QuestionnaireResponse questionnaire", "instrument and version"),
            Map.entry("QuestionnaireResponse status", "completed or amended"),
            Map.entry("QuestionnaireResponse subject", "pseudonym of the patient"),
            Map.entry("QuestionnaireResponse authored", "the sitting, as the profile lets it leave"),
            Map.entry("QuestionnaireResponse _authored", "the sitting, from the start of the episode"),
            Map.entry("QuestionnaireResponse source", "who answered"),
            Map.entry("QuestionnaireResponse item", "responses"),
            Map.entry("Observation id", "key of the score or the change"),
            Map.entry("Observation meta", "site and study, as tags"),
            Map.entry("Observation extension(workflow-episodeOfCare)", "pseudonym of the episode"),
            Map.entry("Observation identifier", "key of the score"),
            Map.entry("Observation status", "final or amended"),
            Map.entry("Observation category", "that it is of a survey"),
            Map.entry("Observation code", "scale, or its change"),
            Map.entry("Observation subject", "pseudonym of the patient"),
            Map.entry("Observation effectiveDateTime", "the sitting, as the profile lets it leave"),
            Map.entry("Observation _effectiveDateTime", "the sitting, from the start of the episode"),
            Map.entry("Observation valueQuantity", "score or change"),
            Map.entry("Observation dataAbsentReason", "why there is no score"),
            Map.entry("Observation interpretation", "verdict on a change"),
            Map.entry("Observation note", "missing-item rule; sources of thresholds"),
            Map.entry("Observation bodySite", "side"),
            Map.entry("Observation method", "rule and the better end"),
            Map.entry("Observation performer", "who answered"),
            Map.entry("Observation hasMember", "subscales of a total"),
            Map.entry("Observation derivedFrom", "form, or both scores of a change"),
            Map.entry("Observation component", "standard error; improvement, thresholds"));

    /** Resources that are about nobody. */
    private static final Set<String> DEFINITIONS =
            Set.of("StructureDefinition", "CodeSystem", "ValueSet", "Questionnaire");

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
                        .or(() -> DEFINITIONS.contains(type)
                                ? Optional.of("part of a definition, the same whoever is sent")
                                : Optional.empty())
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
