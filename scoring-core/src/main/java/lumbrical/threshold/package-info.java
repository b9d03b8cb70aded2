/**
 * Which threshold a change is set against, and what it amounts to. Start at {@link lumbrical.threshold.ThresholdChoice}.
 */
@NullMarked
package lumbrical.threshold;

import org.jspecify.annotations.NullMarked;
