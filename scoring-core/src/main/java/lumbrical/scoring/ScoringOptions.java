package lumbrical.scoring;

/**
 * Which rules count.
 *
 * @param completeOnly every rule by which the answered items stand in for unanswered ones is off
 * @param publishedOnly a scale whose formula or codes are not published is not scored, and a missing-item rule that is not
 *     published is off
 */
public record ScoringOptions(boolean completeOnly, boolean publishedOnly) {
    /** Every rule as the definition states it. */
    public static final ScoringOptions AS_DEFINED = new ScoringOptions(false, false);
}
