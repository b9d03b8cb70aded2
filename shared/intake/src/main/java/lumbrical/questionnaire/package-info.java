/**
 * Forms that come as FHIR R4 QuestionnaireResponses. Start at {@link lumbrical.questionnaire.FhirFile}.
 *
 * <p>A file is read as a stream, one form at a time; what a form means, and which instrument it is, is told in {@code lumbrical.intake}.
 */
@NullMarked
package lumbrical.questionnaire;

import org.jspecify.annotations.NullMarked;
