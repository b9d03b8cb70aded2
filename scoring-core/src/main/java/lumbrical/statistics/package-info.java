/** Small statistics of group results: quantiles and intervals of proportions. Start at {@link lumbrical.statistics.Quantiles}. */
@NullMarked
package lumbrical.statistics;

import org.jspecify.annotations.NullMarked;
