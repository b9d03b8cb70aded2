package lumbrical.scoring;

import java.util.Locale;

/** Why a scale has no score. The codes are written to files: add, never rename. */
public enum Reason {
    /** Some items are answered, but fewer than the missing-item rule asks for. */
    TOO_FEW_ANSWERED,
    /** A response is not among the item's codes. */
    RESPONSE_NOT_ALLOWED,
    /** No item is answered. */
    NO_ANSWERS,
    /** A scale that this one is made of has no score. */
    PART_NOT_SCORED,
    /** Only published rules were asked for, and the formula or the codes are not published. */
    RULE_NOT_PUBLISHED;

    /** The code in files, such as {@code too-few-answered}. */
    public String code() {
        return name().toLowerCase(Locale.ROOT).replace('_', '-');
    }
}
