/**
 * What the program writes: tables described once as columns, CSV, and files that appear whole or not at all. Start at {@link
 * org.handoutcomes.output.OutputTable}.
 */
@NullMarked
package org.handoutcomes.output;

import org.jspecify.annotations.NullMarked;
