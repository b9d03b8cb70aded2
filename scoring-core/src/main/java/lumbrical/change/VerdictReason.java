package lumbrical.change;

import java.util.Locale;

/** Why a change cannot be assessed, the first that holds in this order. The codes are written to files: add, never rename. */
public enum VerdictReason {
    /** There is no baseline score. */
    NO_BASELINE("there is no baseline score"),
    /** The follow-up has no score, or no item was rated at both sittings. */
    NOT_SCORED("there is no follow-up score to set against it"),
    /** The two scores come from different versions of the definition. */
    DIFFERENT_VERSIONS("the two scores come from different versions of the questionnaire's definition"),
    /** No MCID is known. */
    NO_MCID("no smallest important change is known"),
    /** It is too early, by the definition or the schedule. */
    TOO_EARLY("it is too early to judge");

    private final String words;

    VerdictReason(String words) {
        this.words = words;
    }

    /** The code in files, such as {@code no-baseline}. */
    public String code() {
        return name().toLowerCase(Locale.ROOT).replace('_', '-');
    }

    /** As people read it: a clause that follows 'because'. */
    public String words() {
        return words;
    }
}
