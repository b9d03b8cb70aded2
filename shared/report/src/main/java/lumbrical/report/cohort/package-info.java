/** What a report of groups says, from the results of the groups. Start at {@link lumbrical.report.cohort.CohortComposer}. */
@NullMarked
package lumbrical.report.cohort;

import org.jspecify.annotations.NullMarked;
