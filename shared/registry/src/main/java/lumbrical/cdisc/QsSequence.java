package lumbrical.cdisc;

import java.util.Optional;
import java.util.OptionalInt;
import lumbrical.deidentify.DeidentifiedEpisode;
import lumbrical.deidentify.DeidentifiedForm;
import lumbrical.deidentify.DeidentifiedScore;
import lumbrical.scoring.ScoreResult;

/**
 * QSSEQ: numbers the records of QS within each subject, in the order in which they are written. Analysis records count along, so that
 * each points at its record of QS.
 */
final class QsSequence {
    private Optional<String> subject = Optional.empty();
    private int last;

    /** Must be called at each episode, in the order sent. */
    void startOf(DeidentifiedEpisode episode) {
        if (!subject.equals(Optional.of(episode.subject()))) {
            subject = Optional.of(episode.subject());
            last = 0;
        }
    }

    int next() {
        return ++last;
    }

    /** Counts the items of a form, whose records come before those of its scores. */
    void passItems(DeidentifiedForm form) {
        last += form.columnsUsed().size();
    }

    /** The number of a score's record; empty where QS has none, since a score under a missing-item rule is an analysis derivation. */
    OptionalInt ofScore(DeidentifiedScore score) {
        return isInQs(score) ? OptionalInt.of(next()) : OptionalInt.empty();
    }

    static boolean isInQs(DeidentifiedScore score) {
        return score.result().outcome() != ScoreResult.Outcome.WITH_MISSING;
    }
}
