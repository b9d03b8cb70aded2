package lumbrical.sitting;

import java.util.List;
import lumbrical.instrument.Instrument;
import lumbrical.scoring.Responses;
import lumbrical.scoring.ScoreResult;

/**
 * One instrument filled in at one sitting.
 *
 * @param sitting who, when, which side
 * @param instrument the instrument
 * @param responses what was answered
 * @param results its scores, in the order of the definition; empty if nothing was answered
 */
public record ScoredForm(Sitting sitting, Instrument instrument, Responses responses, List<ScoreResult> results) {
    /** Copies the list. */
    public ScoredForm {
        results = List.copyOf(results);
    }
}
