/**
 * HL7 FHIR R4 (4.0.1) files: transaction Bundles of EpisodeOfCare, QuestionnaireResponse and Observation, and the definitions they
 * refer to. Start at {@link org.handoutcomes.fhir.FhirFiles}. Written as plain JSON; the validator of the standard is a tool of the
 * tests only.
 */
@NullMarked
package org.handoutcomes.fhir;

import org.jspecify.annotations.NullMarked;
