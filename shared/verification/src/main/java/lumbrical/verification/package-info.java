/**
 * Runs the vectors that an installation carries, so that it can verify itself. Start at {@link
 * lumbrical.verification.VectorRun}.
 */
@NullMarked
package lumbrical.verification;

import org.jspecify.annotations.NullMarked;
