/**
 * HL7 FHIR R4 (4.0.1) files: transaction Bundles of EpisodeOfCare, QuestionnaireResponse and Observation, and the definitions they
 * refer to. Start at {@link lumbrical.fhir.FhirFiles}. Written as plain JSON; the validator of the standard is a tool of the
 * tests only.
 */
@NullMarked
package lumbrical.fhir;

import org.jspecify.annotations.NullMarked;
