/**
 * The definition of an instrument as a value: items, response sets, scales, rules, thresholds and their sources. Start at
 * {@link org.handoutcomes.instrument.Instrument}.
 *
 * <p>A rule is one of a small closed set of kinds, each documented with its formula where it is declared: {@link
 * org.handoutcomes.instrument.ItemRule}, {@link org.handoutcomes.instrument.PartRule}, {@link
 * org.handoutcomes.instrument.MissingRule}. Which rule an instrument uses is data; no instrument is named in code.
 */
@NullMarked
package org.handoutcomes.instrument;

import org.jspecify.annotations.NullMarked;
