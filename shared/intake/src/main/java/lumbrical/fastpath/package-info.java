/**
 * Plain tables of millions of rows, parsed and printed as bytes. It gives the same bytes as the ordinary path; whatever it does
 * not know it hands over to it. Nothing else depends on this package. Start at {@link lumbrical.fastpath.ScoreFiles}.
 */
@NullMarked
package lumbrical.fastpath;

import org.jspecify.annotations.NullMarked;
