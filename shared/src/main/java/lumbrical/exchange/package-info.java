/**
 * Registry files: a folder with the data in an open standard's form, and beside it a manifest, what was rejected and a data
 * dictionary. Start at {@link lumbrical.exchange.Submission}.
 */
@NullMarked
package lumbrical.exchange;

import org.jspecify.annotations.NullMarked;
