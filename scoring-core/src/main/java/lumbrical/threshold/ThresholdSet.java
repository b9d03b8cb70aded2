package lumbrical.threshold;

import java.util.List;
import java.util.Optional;
import lumbrical.condition.EpisodeCondition;
import lumbrical.instrument.Instrument;
import lumbrical.instrument.Scale;
import lumbrical.instrument.Threshold;

/**
 * The thresholds that one scale of one episode is set against.
 *
 * @param mcid the smallest change that matters
 * @param mdc the smallest change beyond measurement error
 * @param pass the score from which people are content
 * @param publishedMcids the published MCIDs that count for this scale, one per study, ascending
 */
public record ThresholdSet(
        Optional<Threshold> mcid, Optional<Threshold> mdc, Optional<Threshold> pass, List<Double> publishedMcids) {
    /** Copies the list. */
    public ThresholdSet {
        publishedMcids = List.copyOf(publishedMcids);
    }

    /** The general thresholds that the definition names. */
    public static ThresholdSet defaultsOf(Instrument instrument, Scale scale) {
        return ThresholdChoice.DEFAULTS.thresholds(instrument, scale, EpisodeCondition.NONE);
    }
}
