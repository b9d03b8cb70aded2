package lumbrical.registry;

import java.util.Locale;
import java.util.Optional;
import java.util.stream.Stream;

/** The forms in which data can be sent. */
public enum RegistryFormat {
    /** HL7 FHIR R4: Questionnaire, QuestionnaireResponse, Observation in transaction Bundles. */
    FHIR,
    /** CDISC SDTM: DM, QS and their supplements as Dataset-JSON 1.1 and CSV, with define.xml. */
    SDTM,
    /** CDISC ADaM: ADSL and a Basic Data Structure as Dataset-JSON 1.1 and CSV, with define.xml. */
    ADAM,
    /** CSV by RFC 4180 with Frictionless Table Schemas. */
    CSV;

    /** The word used on the command line and in manifests. */
    public String code() {
        return name().toLowerCase(Locale.ROOT);
    }

    /** The format with that {@link #code}, or empty. */
    public static Optional<RegistryFormat> parse(String code) {
        return Stream.of(values()).filter(f -> f.code().equals(code)).findFirst();
    }
}
