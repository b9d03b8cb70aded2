/** Patients' pages as HTML: one patient on one sheet, one clinic in one file. Start at {@link lumbrical.report.PatientPages}. */
@NullMarked
package lumbrical.report;

import org.jspecify.annotations.NullMarked;
