/** Manual pages and completion, made from the commands themselves. Start at {@link lumbrical.manual.ManualPages}. */
@NullMarked
package lumbrical.manual;

import org.jspecify.annotations.NullMarked;
