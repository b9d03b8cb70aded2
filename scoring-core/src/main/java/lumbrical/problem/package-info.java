/**
 * What a run has to tell about its input: problems, which a person must correct in a file, and notes, which are worth knowing.
 * Start at {@link lumbrical.problem.Problem}.
 */
@NullMarked
package lumbrical.problem;

import org.jspecify.annotations.NullMarked;
