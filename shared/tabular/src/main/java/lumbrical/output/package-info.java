/**
 * What the program writes: tables described once as columns, CSV, and files that appear whole or not at all. Start at {@link
 * lumbrical.output.OutputTable}.
 */
@NullMarked
package lumbrical.output;

import org.jspecify.annotations.NullMarked;
