/**
 * One patient on one day, and the forms filled in then. Start at {@link org.handoutcomes.sitting.Sitting}.
 */
@NullMarked
package org.handoutcomes.sitting;

import org.jspecify.annotations.NullMarked;
