package lumbrical.instrument;

import java.util.Optional;

/** How change between two sittings is computed. */
public record ChangeRule(Kind kind, Provenance provenance, Optional<String> note) {
    /** The closed set of ways. */
    public enum Kind {
        /** Follow-up score minus baseline score. */
        DIFFERENCE("difference"),
        /** Means over the items rated at both sittings, then their difference. */
        PAIRED_ITEMS("paired-items"),
        /** None: the score is itself a rating of change. */
        NONE("none");

        private final String code;

        Kind(String code) {
            this.code = code;
        }

        /** The word used in definitions. */
        public String code() {
            return code;
        }
    }
}
