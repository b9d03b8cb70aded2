/**
 * One patient on one day, and the forms filled in then. Start at {@link lumbrical.sitting.Sitting}.
 */
@NullMarked
package lumbrical.sitting;

import org.jspecify.annotations.NullMarked;
