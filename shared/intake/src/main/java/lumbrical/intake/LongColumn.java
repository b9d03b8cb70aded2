package lumbrical.intake;

import lumbrical.instrument.Column;
import lumbrical.instrument.Instrument;

/**
 * What a row of the long layout answers.
 *
 * @param instrument the instrument
 * @param column one of its columns
 */
public record LongColumn(Instrument instrument, Column column) {}
