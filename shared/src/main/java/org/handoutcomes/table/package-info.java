/**
 * Reads response, episode and schedule tables from CSV and XLSX. Start at {@link org.handoutcomes.table.ResponseReader}.
 *
 * <p>A clinic's ordinary mess comes back as problems beside the rows; only what cannot be read at all is thrown, as {@link
 * org.handoutcomes.table.UnreadableInput}.
 */
@NullMarked
package org.handoutcomes.table;

import org.jspecify.annotations.NullMarked;
