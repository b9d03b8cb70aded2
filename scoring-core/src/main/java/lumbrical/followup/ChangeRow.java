package lumbrical.followup;

import lumbrical.change.Change;

/**
 * A follow-up score and the change since its baseline: one row of the table of changes.
 *
 * @param followUp the follow-up score
 * @param assessed the change
 */
public record ChangeRow(AssignedScore followUp, AssessedChange assessed) {
    /** What changed. */
    public Change change() {
        return assessed.change();
    }

    /** Whether it is the one that counts in its window. */
    public boolean used() {
        return followUp.use() == AssignedScore.Use.FOLLOW_UP;
    }
}
