package lumbrical.columns;

import java.util.Set;

/** Names in FHIR resources that are both written and read. */
public final class FhirNames {
    /** Root of our canonical names; the domain is reserved for examples (RFC 2606), so it belongs to nobody. */
    public static final String BASE = "https://lumbrical.example/fhir";

    /** A Questionnaire of ours: this and the id of the instrument. */
    public static final String QUESTIONNAIRE = BASE + "/Questionnaire/";

    /** Namespace of the identifiers of forms of ours. */
    public static final String FORM_ID = BASE + "/id/form";

    /** Our extension for a column and its value. */
    public static final String ATTRIBUTE = BASE + "/StructureDefinition/attribute";

    /** The episode of care that something belongs to. */
    public static final String OF_EPISODE = "http://hl7.org/fhir/StructureDefinition/workflow-episodeOfCare";

    /** How a form was filled in. */
    public static final String COMPLETION_MODE =
            "http://hl7.org/fhir/StructureDefinition/questionnaireresponse-completionMode";

    /** Why a value is not there. */
    public static final String DATA_ABSENT_REASON = "http://hl7.org/fhir/StructureDefinition/data-absent-reason";

    /** The number that an answer stands for: of R4, and of the versions of SDC after it. */
    public static final Set<String> WEIGHTS = Set.of(
            "http://hl7.org/fhir/StructureDefinition/ordinalValue",
            "http://hl7.org/fhir/StructureDefinition/itemWeight",
            "http://hl7.org/fhir/uv/sdc/StructureDefinition/itemWeight");

    /** Units of a number that has none, in UCUM; a score is an annotation and stands for 1. */
    public static final Set<String> NO_UNIT = Set.of("", "1", "{score}", "score");

    private FhirNames() {}
}
