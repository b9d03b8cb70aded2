/**
 * The functional-task profile: how hard each kind of grip is. Descriptive, not a validated scale, no MCID. Start at {@link
 * org.handoutcomes.grip.GripProfile}.
 */
@NullMarked
package org.handoutcomes.grip;

import org.jspecify.annotations.NullMarked;
