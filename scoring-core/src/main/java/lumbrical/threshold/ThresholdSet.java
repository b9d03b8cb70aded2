package lumbrical.threshold;

import java.util.List;
import java.util.Optional;
import java.util.OptionalInt;
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
 * @param mdcOfOneItem the MDC used instead where the change rests on a single item; empty where there is none or the user chose one
 * @param publishedMcids the published MCIDs that count for this scale, one per study, ascending
 */
public record ThresholdSet(
        Optional<Threshold> mcid,
        Optional<Threshold> mdc,
        Optional<Threshold> pass,
        Optional<Threshold> mdcOfOneItem,
        List<Double> publishedMcids) {
    /** Copies the list. */
    public ThresholdSet {
        publishedMcids = List.copyOf(publishedMcids);
    }

    /** Thresholds of a scale that compares scores. */
    public ThresholdSet(
            Optional<Threshold> mcid, Optional<Threshold> mdc, Optional<Threshold> pass, List<Double> publishedMcids) {
        this(mcid, mdc, pass, Optional.empty(), publishedMcids);
    }

    /** What a change over so many paired items is set against. */
    public ThresholdSet forItems(OptionalInt pairedItems) {
        return pairedItems.orElse(0) == 1 && mdcOfOneItem.isPresent()
                ? new ThresholdSet(mcid, mdcOfOneItem, pass, mdcOfOneItem, publishedMcids)
                : this;
    }

    /**
     * The general thresholds that the definition names.
     *
     * @throws IllegalArgumentException if the scale is not one of the instrument
     */
    public static ThresholdSet defaultsOf(Instrument instrument, Scale scale) {
        if (!instrument.requireScale(scale.id()).equals(scale)) {
            throw new IllegalArgumentException("The scale " + scale.id() + " given is not that of " + instrument);
        }
        return ThresholdChoice.DEFAULTS.thresholds(instrument, scale, EpisodeCondition.NONE);
    }
}
