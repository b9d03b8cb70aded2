package lumbrical.deidentify;

import java.util.Arrays;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import java.util.Set;

/** Columns that a profile may or may not name. */
final class ColumnPolicy {
    /** Columns whose values are few by nature, so that a profile need not list them. */
    static final Set<String> CLOSED =
            Set.of("age", "age_band", "dominant_side", "closed_reason", "closed_day", "closed_week", "language");

    /** Columns of a sitting; all others are of the episode. */
    static final Set<String> OF_SITTING = Set.of("mode", "respondent", "language");

    /** Columns that always leave in another form, and what that form is. */
    private static final List<List<String>> REPLACED = List.of(
            List.of("patient", "it leaves as a pseudonym"),
            List.of("episode", "it leaves as a pseudonym"),
            List.of("completed_on", "it leaves as weeks or days from the index date, or shifted"),
            List.of("index_date", "it leaves as week 0, as day 0 with its year, or shifted"),
            List.of("closed_on", "it leaves as closed_week or closed_day"),
            List.of("birth_year", "it leaves as age_band or age, ages over 89 as one"),
            List.of("treated_side", "it always leaves"),
            List.of("side", "it always leaves"),
            List.of("share", "it decides what stays at home"),
            List.of("forms", "it stays at home"));

    /** Words of headings of what names a person or a place (45 CFR 164.514(b)(2)(i)) or is free text. */
    private static final Set<String> NAMING = Set.of(
            "name",
            "names",
            "surname",
            "forename",
            "firstname",
            "lastname",
            "familyname",
            "maiden",
            "initials",
            "birth",
            "birthday",
            "birthdate",
            "dob",
            "born",
            "death",
            "address",
            "street",
            "city",
            "town",
            "village",
            "county",
            "zip",
            "postcode",
            "postal",
            "phone",
            "telephone",
            "mobile",
            "fax",
            "email",
            "mail",
            "ssn",
            "insurance",
            "insurer",
            "record",
            "mrn",
            "account",
            "certificate",
            "licence",
            "license",
            "passport",
            "vehicle",
            "plate",
            "device",
            "serial",
            "url",
            "web",
            "ip",
            "biometric",
            "fingerprint",
            "photo",
            "face",
            "image",
            "signature",
            "surgeon",
            "doctor",
            "physician",
            "relative",
            "employer",
            "comment",
            "comments",
            "note",
            "notes",
            "remark",
            "remarks",
            "text",
            "date");

    private ColumnPolicy() {}

    /** Why a profile may not name this column, or empty. */
    static Optional<String> whyRefused(String column) {
        Optional<String> replaced = REPLACED.stream()
                .filter(r -> r.get(0).equals(column))
                .map(r -> r.get(1) + ". Take it out of the profile.")
                .findFirst();
        return replaced.isPresent() || CLOSED.contains(column)
                ? replaced
                : Arrays.stream(column.toLowerCase(Locale.ROOT).split("[^\\p{L}\\p{N}]+"))
                        .filter(NAMING::contains)
                        .findFirst()
                        .map(word -> "a column called '" + word
                                + "' can name a person, a place, a date or hold free text. It may not leave; take it out of"
                                + " the profile.");
    }

    /** Whether the text is a language by ISO 639, with or without a country by ISO 3166, such as {@code de} or {@code de-CH}. */
    static boolean isLanguage(String text) {
        String[] parts = text.split("-", -1);
        return Set.of(Locale.getISOLanguages()).contains(parts[0])
                && (parts.length == 1
                        || parts.length == 2 && Set.of(Locale.getISOCountries()).contains(parts[1]));
    }
}
