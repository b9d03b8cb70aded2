package lumbrical.followup;

import java.time.LocalDate;
import java.util.Collections;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalInt;
import lumbrical.instrument.InstrumentId;
import lumbrical.instrument.Side;
import lumbrical.problem.Place;

/**
 * One treatment of one side. Its key is patient and id; a revision is a new episode.
 *
 * @param patient pseudonymous id
 * @param id unique within the patient
 * @param treatedSide right or left
 * @param indexDate operation or treatment start; without it nothing of the episode is placed in time
 * @param dominantSide the hand the person prefers
 * @param sex as written
 * @param birthYear year of birth
 * @param condition as written
 * @param procedure as written
 * @param forms instruments expected of this episode; empty = not stated
 * @param closure since when and why nothing more is due
 * @param share false: left out of registry files
 * @param carried further columns that the user asked to carry, in the order of the file
 * @param place where it stands in the input
 */
public record Episode(
        String patient,
        String id,
        Side treatedSide,
        Optional<LocalDate> indexDate,
        Optional<Side> dominantSide,
        Optional<String> sex,
        OptionalInt birthYear,
        Optional<String> condition,
        Optional<String> procedure,
        List<InstrumentId> forms,
        Optional<Closure> closure,
        boolean share,
        Map<String, String> carried,
        Place place) {

    /** @throws IllegalArgumentException if {@code treatedSide} is both */
    public Episode {
        if (treatedSide == Side.BOTH) {
            throw new IllegalArgumentException("An episode treats one side; " + place + " says both");
        }
        forms = List.copyOf(forms);
        carried = Collections.unmodifiableMap(new LinkedHashMap<>(carried));
    }

    /**
     * The end of an episode.
     *
     * @param on nothing is due after this day
     * @param reason {@code died}, {@code withdrawn}, {@code moved}, {@code revision}, {@code other} or blank
     */
    public record Closure(LocalDate on, String reason) {}
}
