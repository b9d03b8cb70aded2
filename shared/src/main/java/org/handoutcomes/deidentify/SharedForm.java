package org.handoutcomes.deidentify;

import java.util.Collections;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import org.handoutcomes.followup.Visit;
import org.handoutcomes.instrument.Instrument;
import org.handoutcomes.instrument.Side;
import org.handoutcomes.scoring.Responses;

/**
 * One instrument of one sitting, without anything that names the person.
 *
 * @param key stays the same when the form is sent again, corrected or not: episode, instrument, day and number
 * @param instrument the instrument
 * @param responses what was answered
 * @param day when
 * @param side the side written on the form
 * @param visit the visit whose window holds the day; empty = unscheduled
 * @param attributes values that the profile lets through ({@code mode}, {@code respondent}, {@code language}), by column
 * @param scores the scores, in the order of the definition
 */
public record SharedForm(
        String key,
        Instrument instrument,
        Responses responses,
        SharedDay day,
        Optional<Side> side,
        Optional<Visit> visit,
        Map<String, String> attributes,
        List<SharedScore> scores) {
    /** Copies the collections. */
    public SharedForm {
        attributes = Collections.unmodifiableMap(new LinkedHashMap<>(attributes));
        scores = List.copyOf(scores);
    }
}
