/** How a number is printed, everywhere. Start at {@link lumbrical.number.Numbers}. */
@NullMarked
package lumbrical.number;

import org.jspecify.annotations.NullMarked;
