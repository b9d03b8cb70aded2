package lumbrical.deidentify;

import java.util.Optional;
import lumbrical.instrument.InstrumentId;
import lumbrical.problem.Place;

/**
 * Something of the input that is not sent.
 *
 * @param place where it stands in the input
 * @param column the column to look at; blank for the row as a whole
 * @param instrument the form, or empty for the whole sitting
 * @param reason a code: that of a problem, or {@code not-shared}, {@code few-with-so-many-episodes},
 *     {@code answers-held-back}, {@code nothing-answered}
 * @param told whether its place may stand in the folder that is sent; not where it may be of somebody who refuses
 */
public record Withheld(Place place, String column, Optional<InstrumentId> instrument, String reason, boolean told) {
    /** Reason of a form whose episode is not to be shared. */
    public static final String NOT_SHARED = "not-shared";

    /** Reason of a form whose episode is left out, since too few subjects have so many episodes. */
    public static final String FEW_WITH_SO_MANY_EPISODES = "few-with-so-many-episodes";

    /** Reason of a form that holds nothing but answers about a hand of which nothing may leave. */
    public static final String ANSWERS_HELD_BACK = "answers-held-back";

    /** Reason of a sitting without any answer. */
    public static final String NOTHING_ANSWERED = "nothing-answered";
}
