/**
 * Reads response, episode and schedule tables from CSV and XLSX. Start at {@link lumbrical.intake.ResponseReader}.
 *
 * <p>A clinic's ordinary mess comes back as problems beside the rows; only what cannot be read at all is thrown, as {@link
 * lumbrical.tabular.UnreadableInputException}.
 */
@NullMarked
package lumbrical.intake;

import org.jspecify.annotations.NullMarked;
