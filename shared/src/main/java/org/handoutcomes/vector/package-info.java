/**
 * Runs the vectors that an installation carries, so that it can verify itself. Start at {@link
 * org.handoutcomes.vector.VectorRun}.
 */
@NullMarked
package org.handoutcomes.vector;

import org.jspecify.annotations.NullMarked;
