/**
 * The commands. Start at {@code Main}. Thin on purpose: options in, one call into the library, words out.
 */
@NullMarked
package lumbrical.command;

import org.jspecify.annotations.NullMarked;
