/**
 * Statistics of groups: pure functions on arrays, each with its formula and source.
 *
 * <p>What is estimated comes as an {@link lumbrical.statistics.Estimate}: a finite number, or the reason there is none. Start at
 * {@link lumbrical.statistics.Means} for one group, {@link lumbrical.statistics.TwoSamples} for two,
 * {@link lumbrical.statistics.AnchorSample} for a group's own MCID, {@link lumbrical.statistics.Retest} and
 * {@link lumbrical.statistics.InternalConsistency} for reliability.
 *
 * <p>Throughout, an improvement is positive when the patient is better, whatever the direction of the scale. Arrays are read and
 * never kept or changed. A value that is not finite is a caller's mistake and refused.
 */
@NullMarked
package lumbrical.statistics;

import org.jspecify.annotations.NullMarked;
