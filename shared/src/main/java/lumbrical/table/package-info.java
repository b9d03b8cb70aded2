/**
 * Reads response, episode and schedule tables from CSV and XLSX. Start at {@link lumbrical.table.ResponseReader}.
 *
 * <p>A clinic's ordinary mess comes back as problems beside the rows; only what cannot be read at all is thrown, as {@link
 * lumbrical.table.UnreadableInput}.
 */
@NullMarked
package lumbrical.table;

import org.jspecify.annotations.NullMarked;
