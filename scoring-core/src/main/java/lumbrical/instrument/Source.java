package lumbrical.instrument;

import java.util.Optional;

/**
 * A place where a fact was found.
 *
 * @param key its name within the definition
 * @param citation authors, journal or publisher, year
 * @param doi digital object identifier, if there is one
 * @param where page, table or kind of copy that was seen
 */
public record Source(String key, String citation, Optional<String> doi, Optional<String> where) {
    /** The citation with place and DOI, in one line. */
    public String inOneLine() {
        return citation
                + where.map(w -> " (" + w + ")").orElse("")
                + doi.map(d -> ". DOI " + d).orElse("");
    }
}
