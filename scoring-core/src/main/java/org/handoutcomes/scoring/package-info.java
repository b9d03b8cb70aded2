/**
 * Turns one person's responses at one sitting into scores. Start at {@link org.handoutcomes.scoring.ScoringPlan}.
 *
 * <p>Pure: the same responses give the same scores. For change between sittings see {@code org.handoutcomes.followup}.
 */
@NullMarked
package org.handoutcomes.scoring;

import org.jspecify.annotations.NullMarked;
