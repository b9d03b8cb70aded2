/**
 * Puts scores in time: sitting to episode and visit, baseline, change and verdict, follow-up counts, who is due. Start at
 * {@link org.handoutcomes.followup.Clinic}.
 */
@NullMarked
package org.handoutcomes.followup;

import org.jspecify.annotations.NullMarked;
