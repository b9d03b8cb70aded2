/**
 * The columns of every table, one class a table: readers, CSV, workbook, registry files and the data dictionary all ask it. Start
 * at {@link lumbrical.columns.ScoreColumns}.
 */
@NullMarked
package lumbrical.columns;

import org.jspecify.annotations.NullMarked;
