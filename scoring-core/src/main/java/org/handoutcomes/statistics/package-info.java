/** Small statistics of group results: quantiles and intervals of proportions. Start at {@link org.handoutcomes.statistics.Quantiles}. */
@NullMarked
package org.handoutcomes.statistics;

import org.jspecify.annotations.NullMarked;
