/**
 * Scores whole files. Start at {@link org.handoutcomes.batch.BatchScorer}.
 */
@NullMarked
package org.handoutcomes.batch;

import org.jspecify.annotations.NullMarked;
