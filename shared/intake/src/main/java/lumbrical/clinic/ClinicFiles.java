package lumbrical.clinic;

import java.time.LocalDate;
import java.util.List;
import java.util.Optional;
import java.util.stream.Stream;
import lumbrical.intake.ReadOptions;
import lumbrical.scoring.ScoringOptions;
import lumbrical.tabular.Input;

/**
 * The files of a clinic and how they are to be read.
 *
 * @param responses files of responses, read one after the other
 * @param episodes the table of episodes; empty = nothing is placed in time
 * @param schedule the visits; empty = the default schedule
 * @param thresholds the user's choice of thresholds; empty = the definitions' defaults
 * @param conditions the clinic's own names of conditions
 * @param reading how the files are read, and the day on which things are looked at
 * @param scoring which rules count
 */
public record ClinicFiles(
        List<Input> responses,
        Optional<Input> episodes,
        Optional<Input> schedule,
        Optional<Input> thresholds,
        Optional<Input> conditions,
        ReadOptions reading,
        ScoringOptions scoring) {
    /** Copies the list. */
    public ClinicFiles {
        responses = List.copyOf(responses);
    }

    /** The files besides those of responses that are there, in the order of the parts. */
    Stream<Input> tables() {
        return Stream.of(episodes, schedule, thresholds, conditions).flatMap(Optional::stream);
    }

    /** Files of responses looked at on {@code asOf}; everything else as by default. */
    public static Builder builder(List<Input> responses, LocalDate asOf) {
        return new Builder(responses, asOf);
    }

    /** The files of a clinic, part by part. */
    public static final class Builder {
        private final List<Input> responses;
        private Optional<Input> episodes = Optional.empty();
        private Optional<Input> schedule = Optional.empty();
        private Optional<Input> thresholds = Optional.empty();
        private Optional<Input> conditions = Optional.empty();
        private ReadOptions reading;
        private ScoringOptions scoring = ScoringOptions.AS_DEFINED;

        private Builder(List<Input> responses, LocalDate asOf) {
            this.responses = responses;
            this.reading = ReadOptions.asOf(asOf);
        }

        /** The table of episodes. */
        public Builder episodes(Input table) {
            this.episodes = Optional.of(table);
            return this;
        }

        /** The visits. */
        public Builder schedule(Optional<Input> table) {
            this.schedule = table;
            return this;
        }

        /** The choice of thresholds. */
        public Builder thresholds(Optional<Input> table) {
            this.thresholds = table;
            return this;
        }

        /** The clinic's own names of conditions. */
        public Builder conditions(Optional<Input> table) {
            this.conditions = table;
            return this;
        }

        /** How the files are read. */
        public Builder reading(ReadOptions options) {
            this.reading = options;
            return this;
        }

        /** Which rules count. */
        public Builder scoring(ScoringOptions options) {
            this.scoring = options;
            return this;
        }

        /** The files. */
        public ClinicFiles build() {
            return new ClinicFiles(responses, episodes, schedule, thresholds, conditions, reading, scoring);
        }
    }
}
