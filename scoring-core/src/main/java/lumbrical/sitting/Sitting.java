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
 * @param completedOn the day; {@link #NO_DAY} of a form that tells none
 * @param time orders sittings of one day
 * @param side the side written on the form
 * @param episode the episode written on the form
 * @param mode paper, web and the like, as written
 * @param respondent self or proxy, as written
 * @param language as written
 * @param place where it stands in the input
 * @param identifier of a form that tells no day: it keeps apart what no day does
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
        Place place,
        Optional<String> identifier) {
    /** Stands for the day of a form that tells none. It is after every day, so that no such form is placed in time. */
    public static final LocalDate NO_DAY = LocalDate.MAX;

    /** A sitting that is known by its day. */
    public Sitting(
            String patient,
            LocalDate completedOn,
            Optional<LocalTime> time,
            Optional<Side> side,
            Optional<String> episode,
            Optional<String> mode,
            Optional<String> respondent,
            Optional<String> language,
            Place place) {
        this(patient, completedOn, time, side, episode, mode, respondent, language, place, Optional.empty());
    }

    /**
     * What makes two rows one sitting.
     *
     * @param patient pseudonymous id
     * @param completedOn the day; {@link #NO_DAY} if there is none
     * @param time the time, if given
     * @param side the side, if given
     * @param episode the episode, if given
     * @param identifier of a form that tells no day
     */
    public record Key(
            String patient,
            LocalDate completedOn,
            Optional<LocalTime> time,
            Optional<Side> side,
            Optional<String> episode,
            Optional<String> identifier) {
        /** The key of a sitting that is known by its day. */
        public Key(
                String patient,
                LocalDate completedOn,
                Optional<LocalTime> time,
                Optional<Side> side,
                Optional<String> episode) {
            this(patient, completedOn, time, side, episode, Optional.empty());
        }

        // Equality written out: the one a record is given is put together at run time, and every start would pay.

        @Override
        public boolean equals(Object other) {
            return other instanceof Key key
                    && patient.equals(key.patient)
                    && completedOn.equals(key.completedOn)
                    && time.equals(key.time)
                    && side.equals(key.side)
                    && episode.equals(key.episode)
                    && identifier.equals(key.identifier);
        }

        @Override
        public int hashCode() {
            int hash = 31 * patient.hashCode() + completedOn.hashCode();
            hash = 31 * hash + time.hashCode();
            hash = 31 * hash + side.map(Side::ordinal).orElse(-1);
            hash = 31 * hash + episode.hashCode();
            return 31 * hash + identifier.hashCode();
        }
    }

    /** Patient, date, time, side and episode; of a form that tells no day also its identifier. */
    public Key key() {
        return new Key(patient, completedOn, time, side, episode, identifier);
    }

    /** The day, if the form tells one. */
    public Optional<LocalDate> day() {
        return Optional.of(completedOn).filter(day -> !day.equals(NO_DAY));
    }

    /** The day as an ISO date, or {@code day not known}. */
    public String dayInWords() {
        return day().map(LocalDate::toString).orElse("day not known");
    }
}
