/**
 * Scores whole files. Start at {@link lumbrical.batch.BatchScorer}.
 */
@NullMarked
package lumbrical.batch;

import org.jspecify.annotations.NullMarked;
