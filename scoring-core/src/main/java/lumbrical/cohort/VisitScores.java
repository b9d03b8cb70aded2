package lumbrical.cohort;

import java.util.Arrays;
import java.util.Optional;
import java.util.OptionalInt;
import lumbrical.change.BeyondError;
import lumbrical.instrument.Side;
import lumbrical.scoring.Responses;

/**
 * The scores of one scale that count at one visit, by position of the episode, in arrays: a clinic has millions of them. Room is made with
 * the first score, since many visits have none.
 */
final class VisitScores {
    private static final double NONE = Double.NaN;
    private static final byte NOT_RATED = Byte.MIN_VALUE;
    private static final BeyondError[] ERRORS = BeyondError.values();
    private static final Side[] SIDES = Side.values();

    private final int episodes;
    private double[] scores = {};
    private double[] improvements = {};
    /** Baselines and follow-ups that were compared where they are not the scores that count, such as means of paired items. */
    private double[] comparedBaselines = {};

    private double[] comparedFollowUps = {};
    private byte[] errors = {};
    private byte[] ratings = {};
    /** Positions in the list of thresholds, plus 1; 0 is none. */
    private short[] mcids = {};

    private short[] mdcs = {};
    private Responses[] responses = {};
    private byte[] hands = {};

    VisitScores(int episodes) {
        this.episodes = episodes;
    }

    /** A score that counts, the form it is of, and what the patient said of the change at the same sitting, in steps. */
    void put(int episode, double score, Responses form, Optional<Side> hand, OptionalInt rating) {
        if (scores.length == 0) {
            scores = filled(NONE);
            improvements = filled(NONE);
            errors = new byte[episodes];
            ratings = new byte[episodes];
            Arrays.fill(ratings, NOT_RATED);
            mcids = new short[episodes];
            mdcs = new short[episodes];
            responses = new Responses[episodes];
            Arrays.fill(responses, Responses.blankForm(form.instrument()));
            hands = new byte[episodes];
        }
        scores[episode] = score;
        responses[episode] = form;
        hands[episode] = (byte) (hand.isEmpty() ? 0 : hand.get().ordinal() + 1);
        rating.ifPresent(r -> ratings[episode] = (byte) r);
    }

    /**
     * The change of a score that was put.
     *
     * @param mcid position of the MCID in the list of thresholds, plus 1; 0 is none
     * @param mdc that of the MDC
     */
    void putChange(int episode, double improvement, Optional<BeyondError> error, int mcid, int mdc) {
        improvements[episode] = improvement;
        errors[episode] = (byte) error.orElse(BeyondError.UNKNOWN).ordinal();
        mcids[episode] = (short) mcid;
        mdcs[episode] = (short) mdc;
    }

    /** What was compared, where it is not the baseline score of the episode or the score that was put. */
    void putCompared(int episode, double baseline, double followUp) {
        if (comparedBaselines.length == 0) {
            comparedBaselines = filled(NONE);
            comparedFollowUps = filled(NONE);
        }
        comparedBaselines[episode] = baseline;
        comparedFollowUps[episode] = followUp;
    }

    private double[] filled(double value) {
        double[] filled = new double[episodes];
        Arrays.fill(filled, value);
        return filled;
    }

    boolean scored(int episode) {
        return scores.length > 0 && !Double.isNaN(scores[episode]);
    }

    /** The score of an episode that is {@link #scored}. */
    double score(int episode) {
        return scores[episode];
    }

    /** Whether there is a score at baseline to set it against. */
    boolean paired(int episode) {
        return scores.length > 0 && !Double.isNaN(improvements[episode]);
    }

    /** The improvement of an episode that is {@link #paired}. */
    double improvement(int episode) {
        return improvements[episode];
    }

    /** The baseline that was compared. */
    double comparedBaseline(int episode, double ofEpisode) {
        boolean own = comparedBaselines.length > 0 && !Double.isNaN(comparedBaselines[episode]);
        return own ? comparedBaselines[episode] : ofEpisode;
    }

    /** The follow-up that was compared. */
    double comparedFollowUp(int episode) {
        boolean own = comparedFollowUps.length > 0 && !Double.isNaN(comparedFollowUps[episode]);
        return own ? comparedFollowUps[episode] : scores[episode];
    }

    /** Whether the change of an episode that is {@link #paired} is larger than error. */
    BeyondError error(int episode) {
        return ERRORS[errors[episode]];
    }

    boolean rated(int episode) {
        return scores.length > 0 && ratings[episode] != NOT_RATED;
    }

    int rating(int episode) {
        return ratings[episode];
    }

    int mcid(int episode) {
        return mcids[episode];
    }

    int mdc(int episode) {
        return mdcs[episode];
    }

    /** The form of an episode that is {@link #scored}. */
    Responses responses(int episode) {
        return responses[episode];
    }

    /** The hand that the score is of. */
    Optional<Side> hand(int episode) {
        return hands[episode] == 0 ? Optional.empty() : Optional.of(SIDES[hands[episode] - 1]);
    }
}
