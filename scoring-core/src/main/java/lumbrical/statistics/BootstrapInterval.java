package lumbrical.statistics;

import lumbrical.instrument.Range;

/**
 * The percentile interval of an estimate over resamples of the patients.
 *
 * @param interval 95 %; not estimable where the estimate itself is not, of one patient, or if fewer than 95 of 100 resamples gave an
 *     estimate (our convention: those left over would be a selection)
 * @param usable how many resamples gave an estimate
 * @param resamples how many there were
 */
public record BootstrapInterval(Estimate<Range> interval, int usable, int resamples) {}
