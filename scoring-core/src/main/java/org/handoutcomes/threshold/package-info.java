/**
 * Which threshold a change is set against, and what it amounts to. Start at {@link org.handoutcomes.threshold.ThresholdChoice}.
 */
@NullMarked
package org.handoutcomes.threshold;

import org.jspecify.annotations.NullMarked;
