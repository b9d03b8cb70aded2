package lumbrical.deidentify;

/**
 * Where an upload comes from and what it is for; both stand in every file.
 *
 * @param site the clinic, as the receiver calls it
 * @param study the study or registry, as the receiver calls it
 */
public record Sender(String site, String study) {
    /** The site of a sender who names none; two sites must not share it. */
    public static final String DEFAULT_SITE = "SITE01";

    /** The study of a sender who names none; two sites must not share it with the same site. */
    public static final String DEFAULT_STUDY = "STUDY01";

    /** What a site or a study may be called, in words. */
    public static final String ALLOWED = "a letter and at most 19 letters, digits or hyphens";

    /** @throws IllegalArgumentException if one of them is not {@link #ALLOWED} */
    public Sender {
        if (!isAllowed(site) || !isAllowed(study)) {
            throw new IllegalArgumentException("'" + site + "', '" + study + "': each must be " + ALLOWED);
        }
    }

    /** Whether the text is {@link #ALLOWED}. */
    public static boolean isAllowed(String text) {
        return text.matches("[A-Za-z][A-Za-z0-9-]{0,19}");
    }
}
