package lumbrical.registry;

import java.util.List;
import java.util.Locale;
import java.util.Optional;
import java.util.Set;
import java.util.stream.Stream;
import lumbrical.deidentify.Profile;

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

    /** The columns of a profile for which DM and ADSL have a variable. */
    private static final Set<String> OF_SUBJECTS = Set.of("sex", "age", "age_band");

    private static final String CLOSED_REASON = "closed_reason";
    private static final String DIED = "died";

    /**
     * What of a profile data in this form can hold, which is what is to be counted and left blank: FHIR and CSV hold every column; SDTM
     * and ADaM sex, age and age band, and of the reasons of closing a death alone ({@code DTHFL}).
     */
    public Profile narrowed(Profile profile) {
        if (sendsEveryColumn()) {
            return profile;
        }
        List<Profile.AllowedColumn> held = profile.columns().stream()
                .filter(c -> OF_SUBJECTS.contains(c.name()) || c.name().equals(CLOSED_REASON) && letsDeathsOut(c))
                .map(c -> c.name().equals(CLOSED_REASON) ? new Profile.AllowedColumn(CLOSED_REASON, List.of(DIED)) : c)
                .toList();
        return new Profile(
                profile.id(), profile.version(), profile.study(), profile.dates(), profile.smallCell(), held);
    }

    private static boolean letsDeathsOut(Profile.AllowedColumn reason) {
        return reason.values().isEmpty() || reason.values().stream().anyMatch(DIED::equalsIgnoreCase);
    }

    /** Whether data in this form can hold that column of a profile, or part of it. */
    boolean hasPlaceFor(String column) {
        return sendsEveryColumn() || OF_SUBJECTS.contains(column) || column.equals(CLOSED_REASON);
    }

    /** Whether there is a place for any column that a profile can name. */
    boolean sendsEveryColumn() {
        return this == FHIR || this == CSV;
    }

    /** The word used on the command line and in manifests. */
    public String code() {
        return name().toLowerCase(Locale.ROOT);
    }

    /** The format with that {@link #code}, or empty. */
    public static Optional<RegistryFormat> parse(String code) {
        return Stream.of(values()).filter(f -> f.code().equals(code)).findFirst();
    }
}
