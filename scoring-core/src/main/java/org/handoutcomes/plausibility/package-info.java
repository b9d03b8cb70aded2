/**
 * Forms worth a second look although nothing in them is wrong. Start at {@link org.handoutcomes.plausibility.Plausibility}.
 */
@NullMarked
package org.handoutcomes.plausibility;

import org.jspecify.annotations.NullMarked;
