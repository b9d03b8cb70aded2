/**
 * Results as HTML that needs no other file: one patient on one sheet, one clinic in one file, and a report of groups. Start at {@link
 * lumbrical.report.PatientPages} and {@link lumbrical.report.CohortReport}.
 */
@NullMarked
package lumbrical.report;

import org.jspecify.annotations.NullMarked;
