/**
 * The definition of an instrument as a value: items, response sets, scales, rules, thresholds and their sources. Start at
 * {@link lumbrical.instrument.Instrument}.
 *
 * <p>A rule is one of a small closed set of kinds, each documented with its formula where it is declared: {@link
 * lumbrical.instrument.ItemRule}, {@link lumbrical.instrument.PartRule}, {@link
 * lumbrical.instrument.MissingRule}. Which rule an instrument uses is data; no instrument is named in code.
 */
@NullMarked
package lumbrical.instrument;

import org.jspecify.annotations.NullMarked;
