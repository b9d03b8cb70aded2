/**
 * Turns one person's responses at one sitting into scores. Start at {@link lumbrical.scoring.ScoringPlan}.
 *
 * <p>Pure: the same responses give the same scores. For change between sittings see {@code lumbrical.followup}.
 */
@NullMarked
package lumbrical.scoring;

import org.jspecify.annotations.NullMarked;
