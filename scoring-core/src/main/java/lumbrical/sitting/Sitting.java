package lumbrical.sitting;

import java.time.LocalDate;
import java.time.LocalTime;
import java.util.Optional;
import lumbrical.instrument.Side;
import lumbrical.problem.Place;

/**
 * One patient on one day.
 *
 * @param patient pseudonymous id
 * @param completedOn the day
 * @param time orders sittings of one day
 * @param side the side written on the form
 * @param episode the episode written on the form
 * @param mode paper, web and the like, as written
 * @param respondent self or proxy, as written
 * @param language as written
 * @param place where it stands in the input
 */
public record Sitting(
        String patient,
        LocalDate completedOn,
        Optional<LocalTime> time,
        Optional<Side> side,
        Optional<String> episode,
        Optional<String> mode,
        Optional<String> respondent,
        Optional<String> language,
        Place place) {

    /**
     * What makes two rows one sitting.
     *
     * @param patient pseudonymous id
     * @param completedOn the day
     * @param time the time, if given
     * @param side the side, if given
     * @param episode the episode, if given
     */
    public record Key(
            String patient,
            LocalDate completedOn,
            Optional<LocalTime> time,
            Optional<Side> side,
            Optional<String> episode) {}

    /** Patient, date, time, side and episode. */
    public Key key() {
        return new Key(patient, completedOn, time, side, episode);
    }
}
