/**
 * A follow-up score set against a baseline score, a scale and thresholds. Start at {@link lumbrical.change.Change}.
 *
 * <p>No clinic is needed: whoever has two scores can ask. When and where they were taken is the business of {@code
 * lumbrical.followup}.
 */
@NullMarked
package lumbrical.change;

import org.jspecify.annotations.NullMarked;
