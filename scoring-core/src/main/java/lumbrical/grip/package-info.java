/**
 * The functional-task profile: how hard each kind of grip is. Descriptive, not a validated scale, no MCID. Start at {@link
 * lumbrical.grip.GripProfile}.
 */
@NullMarked
package lumbrical.grip;

import org.jspecify.annotations.NullMarked;
