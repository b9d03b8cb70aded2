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
     * @param day nothing is due after it; empty if only the reason is known: then nothing is due at all
     * @param reason {@code died}, {@code withdrawn}, {@code moved}, {@code revision}, {@code other} or blank
     */
    public record Closure(Optional<LocalDate> day, String reason) {
        /** An end on a known day. */
        public Closure(LocalDate on, String reason) {
            this(Optional.of(on), reason);
        }

        /** The day; where it is not known, the first that there is. */
        public LocalDate on() {
            return day.orElse(LocalDate.MIN);
        }

        /** Whether it lies before that day; so it does where its own day is not known. */
        public boolean isBefore(LocalDate other) {
            return day.map(on -> on.isBefore(other)).orElse(true);
        }

        /** Whether it lies after that day, which is never so where its own day is not known. */
        public boolean isAfter(LocalDate other) {
            return day.map(on -> on.isAfter(other)).orElse(false);
        }
    }

    /**
     * What tells an episode from all others.
     *
     * @param patient pseudonymous id
     * @param id unique within the patient
     */
    public record Key(String patient, String id) {
        // Equality written out: the one a record is given is put together at run time, and every start would pay.

        @Override
        public boolean equals(Object other) {
            return other instanceof Key key && patient.equals(key.patient) && id.equals(key.id);
        }

        @Override
        public int hashCode() {
            return 31 * patient.hashCode() + id.hashCode();
        }
    }

    /** Patient and id. */
    public Key key() {
        return new Key(patient, id);
    }

    /** The end of the episode as known on {@code asOf}; one that lies before the index date closes nothing. */
    public Optional<Closure> closureKnown(LocalDate asOf) {
        return closure.filter(c -> !c.isAfter(asOf))
                .filter(c -> c.day().isEmpty() || indexDate.isEmpty() || !c.isBefore(indexDate.get()));
    }

    /** An episode of {@code treatedSide}; what is not said is absent, and it may be shared. */
    public static Builder builder(String patient, String id, Side treatedSide) {
        return new Builder(patient, id, treatedSide);
    }

    /** The parts of an episode. */
    public static final class Builder {
        private final String patient;
        private final String id;
        private final Side treatedSide;
        private Optional<LocalDate> indexDate = Optional.empty();
        private Optional<Side> dominantSide = Optional.empty();
        private Optional<String> sex = Optional.empty();
        private OptionalInt birthYear = OptionalInt.empty();
        private Optional<String> condition = Optional.empty();
        private Optional<String> procedure = Optional.empty();
        private List<InstrumentId> forms = List.of();
        private Optional<Closure> closure = Optional.empty();
        private boolean share = true;
        private Map<String, String> carried = Map.of();
        private Place place = Place.of("episodes");

        private Builder(String patient, String id, Side treatedSide) {
            this.patient = patient;
            this.id = id;
            this.treatedSide = treatedSide;
        }

        /** Operation or treatment start. */
        public Builder indexDate(LocalDate day) {
            this.indexDate = Optional.of(day);
            return this;
        }

        /** Operation or treatment start, where it is known. */
        public Builder indexDate(Optional<LocalDate> day) {
            this.indexDate = day;
            return this;
        }

        /** The hand the person prefers. */
        public Builder dominantSide(Optional<Side> side) {
            this.dominantSide = side;
            return this;
        }

        /** female, male, other or unknown. */
        public Builder sex(Optional<String> word) {
            this.sex = word;
            return this;
        }

        /** Year of birth. */
        public Builder birthYear(OptionalInt year) {
            this.birthYear = year;
            return this;
        }

        /** Condition treated. */
        public Builder condition(String text) {
            return condition(Optional.of(text));
        }

        /** Condition treated, where it is known. */
        public Builder condition(Optional<String> text) {
            this.condition = text;
            return this;
        }

        /** Procedure, where it is known. */
        public Builder procedure(Optional<String> text) {
            this.procedure = text;
            return this;
        }

        /** Instruments expected of this episode. */
        public Builder forms(List<InstrumentId> expected) {
            this.forms = expected;
            return this;
        }

        /** The end of the episode, where there is one. */
        public Builder closure(Optional<Closure> end) {
            this.closure = end;
            return this;
        }

        /** Leaves the episode out of registry files. */
        public Builder notShared() {
            this.share = false;
            return this;
        }

        /** Further columns to take along, in order. */
        public Builder carried(Map<String, String> columns) {
            this.carried = columns;
            return this;
        }

        /** Where it stands in the input. */
        public Builder place(Place where) {
            this.place = where;
            return this;
        }

        /**
         * The episode.
         *
         * @throws IllegalArgumentException if the treated side is both
         */
        public Episode build() {
            return new Episode(
                    patient,
                    id,
                    treatedSide,
                    indexDate,
                    dominantSide,
                    sex,
                    birthYear,
                    condition,
                    procedure,
                    forms,
                    closure,
                    share,
                    carried,
                    place);
        }
    }
}
