/**
 * Forms worth a second look although nothing in them is wrong. Start at {@link lumbrical.plausibility.Plausibility}.
 */
@NullMarked
package lumbrical.plausibility;

import org.jspecify.annotations.NullMarked;
