/**
 * Puts scores in time: sitting to episode and visit, baseline, change and verdict, follow-up counts, who is due. Start at
 * {@link lumbrical.followup.FollowUpAnalysis}.
 */
@NullMarked
package lumbrical.followup;

import org.jspecify.annotations.NullMarked;
