/**
 * Results of groups: how the patients of a condition, a treatment or a surgeon do, and how sure that is. Start at {@link
 * lumbrical.cohort.CohortAnalysis}.
 *
 * <p>The unit is the episode. An improvement is positive when the patient is better. What cannot be estimated is an {@link
 * lumbrical.statistics.Estimate} without a value, which keeps its reason.
 */
@NullMarked
package lumbrical.cohort;

import org.jspecify.annotations.NullMarked;
