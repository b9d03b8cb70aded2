package lumbrical.cohort;

import lumbrical.instrument.InstrumentId;
import lumbrical.instrument.ScaleId;

/** A scale, whatever the version of its definition. */
record ScaleKey(InstrumentId instrument, ScaleId scale) {}
