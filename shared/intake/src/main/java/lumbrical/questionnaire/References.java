package lumbrical.questionnaire;

import java.net.URLDecoder;
import java.nio.charset.StandardCharsets;
import java.util.Optional;

/** What the text of a FHIR reference says. Source: FHIR R4, Reference.reference and the conditional reference of a transaction. */
final class References {
    private static final String UUID = "urn:uuid:";

    private References() {}

    /** The kind of resource in {@code Patient/1}, {@code https://.../Patient/1} or {@code Patient?identifier=...}; blank if none is told. */
    static String kind(String reference) {
        int query = reference.indexOf('?');
        if (query >= 0) {
            return reference.substring(reference.lastIndexOf('/', query) + 1, query);
        }
        String[] parts = withoutHistory(reference).split("/", -1);
        return parts.length < 2 ? "" : parts[parts.length - 2];
    }

    /** The id in a reference, or the identifier by which it asks; empty where it points into the form itself. */
    static Optional<String> id(String reference) {
        if (reference.startsWith("#")) {
            return Optional.empty();
        }
        int query = reference.indexOf('?');
        if (query >= 0) {
            return asked(reference.substring(query + 1));
        }
        String path = withoutHistory(reference);
        String id = path.startsWith(UUID) ? path.substring(UUID.length()) : path.substring(path.lastIndexOf('/') + 1);
        return Optional.of(id).filter(i -> !i.isBlank());
    }

    private static Optional<String> asked(String query) {
        for (String part : query.split("&", -1)) {
            if (part.startsWith("identifier=")) {
                String token = decoded(part.substring("identifier=".length()));
                return Optional.of(token.substring(token.lastIndexOf('|') + 1)).filter(i -> !i.isBlank());
            }
        }
        return Optional.empty();
    }

    private static String decoded(String text) {
        try {
            return URLDecoder.decode(text, StandardCharsets.UTF_8);
        } catch (IllegalArgumentException e) {
            return text; // a percent sign that stands for itself
        }
    }

    private static String withoutHistory(String reference) {
        int history = reference.indexOf("/_history/");
        return history < 0 ? reference : reference.substring(0, history);
    }
}
