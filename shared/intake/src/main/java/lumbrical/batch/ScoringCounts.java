package lumbrical.batch;

import java.util.Collections;
import java.util.EnumMap;
import java.util.Map;
import lumbrical.intake.ReadSummary;
import lumbrical.scoring.ScoreResult;

/**
 * Where every row went: rows read = scored + nothing to score + rejected.
 *
 * @param read what was read
 * @param scored rows that gave at least one score row
 * @param nothing rows that gave none
 * @param sittings sittings read
 * @param blankForms forms without any answer
 * @param outcomes score rows by outcome
 */
public record ScoringCounts(
        ReadSummary read,
        long scored,
        long nothing,
        long sittings,
        long blankForms,
        Map<ScoreResult.Outcome, Long> outcomes) {
    /** Copies the map. */
    public ScoringCounts {
        Map<ScoreResult.Outcome, Long> copy = new EnumMap<>(ScoreResult.Outcome.class);
        copy.putAll(outcomes);
        outcomes = Collections.unmodifiableMap(copy);
    }

    /** The line that ends every run. */
    public String reconciliation() {
        return "rows read " + read.rows() + " = scored " + scored + " + nothing to score " + nothing + " + rejected "
                + read.rejected();
    }

    /** Score rows by outcome, in one line. */
    public String outcomeLine() {
        return "score rows: complete " + of(ScoreResult.Outcome.COMPLETE) + ", with-missing "
                + of(ScoreResult.Outcome.WITH_MISSING) + ", not-scored " + of(ScoreResult.Outcome.NOT_SCORED)
                + "; questionnaires left blank on these rows (each instrument of the file counts by itself) "
                + blankForms;
    }

    private long of(ScoreResult.Outcome outcome) {
        return outcomes.getOrDefault(outcome, 0L);
    }
}
