package lumbrical.questionnaire;

import java.util.List;
import java.util.Optional;

/**
 * A QuestionnaireResponse as it stands in a file; texts as written. Source of the elements: FHIR R4 (4.0.1).
 *
 * @param number the entry of the Bundle it came in, counted through the file from 1; of a file of lines, its line
 * @param questionnaire the canonical of the Questionnaire, with its version if given
 * @param status {@code completed} and the like, blank if there is none
 * @param authored when it was answered
 * @param identifier its identifier
 * @param patient the id of whom it is about: the identifier, else the id in the reference
 * @param episode the id of the EpisodeOfCare that it names
 * @param side what our own extension says of the side
 * @param mode how it was filled in
 * @param respondent {@code self}, or who answered for the person
 * @param language the language of the resource
 * @param answers every item that has an answer, or says that it was answered wrongly, in the order of the file
 * @param fault why the resource cannot be used, if so
 */
public record FhirForm(
        int number,
        Optional<String> questionnaire,
        String status,
        Optional<String> authored,
        Optional<Identifier> identifier,
        Optional<String> patient,
        Optional<String> episode,
        Optional<String> side,
        Optional<String> mode,
        Optional<String> respondent,
        Optional<String> language,
        List<Answer> answers,
        Optional<String> fault) {
    /** Copies the list. */
    public FhirForm {
        answers = List.copyOf(answers);
    }

    /**
     * A business identifier.
     *
     * @param system the namespace; blank if there is none
     * @param value the id in it
     */
    public record Identifier(String system, String value) {}

    /**
     * What an item was answered with.
     *
     * @param linkId of the item
     * @param text a number or code as written; several answers are separated by a comma and a blank
     */
    public record Answer(String linkId, String text) {}
}
