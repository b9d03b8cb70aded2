/**
 * Runs the vectors that an installation carries, so that it can verify itself. Start at {@link
 * lumbrical.vector.VectorRun}.
 */
@NullMarked
package lumbrical.vector;

import org.jspecify.annotations.NullMarked;
