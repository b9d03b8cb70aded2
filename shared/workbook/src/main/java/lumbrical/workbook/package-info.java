/**
 * Workbooks: the longitudinal workbook, the problems workbook, the due list and the entry form. Start at {@link
 * lumbrical.workbook.ClinicWorkbook}.
 */
@NullMarked
package lumbrical.workbook;

import org.jspecify.annotations.NullMarked;
