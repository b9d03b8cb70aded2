/**
 * Workbooks: the longitudinal workbook, the problems workbook, the due list and the entry form. Start at {@link
 * org.handoutcomes.workbook.ClinicWorkbook}.
 */
@NullMarked
package org.handoutcomes.workbook;

import org.jspecify.annotations.NullMarked;
