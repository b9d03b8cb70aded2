/**
 * What a run has to tell about its input: problems, which a person must correct in a file, and notes, which are worth knowing.
 * Start at {@link org.handoutcomes.problem.Problem}.
 */
@NullMarked
package org.handoutcomes.problem;

import org.jspecify.annotations.NullMarked;
