package lumbrical.cdisc;

import java.util.ArrayList;
import java.util.Collections;
import java.util.HashMap;
import java.util.HashSet;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.Set;
import java.util.function.Consumer;
import lumbrical.deidentify.DeidentifiedEpisode;

/**
 * A dataset: its variables and where its records come from.
 *
 * @param name such as {@code QS}
 * @param label at most forty characters
 * @param form its kind
 * @param variables in order
 * @param records makes every record, the same each time
 */
record Dataset(String name, String label, Form form, List<Variable> variables, Records records) {
    /** Kinds of dataset, with the class of Define-XML 2.1 and what a record is of. */
    enum Form {
        SPECIAL_PURPOSE("SPECIAL PURPOSE", "One record per subject", false),
        FINDINGS("FINDINGS", "One record per questionnaire finding per form per subject", true),
        RELATIONSHIP("RELATIONSHIP", "One record per IDVAR, IDVARVAL, and QNAM value per subject", true),
        SUBJECT_LEVEL("SUBJECT LEVEL ANALYSIS DATASET", "One record per subject", false),
        BASIC_DATA_STRUCTURE("BASIC DATA STRUCTURE", "One record per subject per episode per parameter per form", true),
        /** None of the standard's. */
        OURS("", "One record per key that is taken back", true);

        private final String className;
        private final String structure;
        private final boolean repeating;

        Form(String className, String structure, boolean repeating) {
            this.className = className;
            this.structure = structure;
            this.repeating = repeating;
        }

        /** The class; empty where the standard has none. */
        Optional<String> className() {
            return Optional.of(className).filter(c -> !c.isEmpty());
        }

        String structure() {
            return structure;
        }

        /** Whether a subject can have several records. */
        boolean repeating() {
            return repeating;
        }
    }

    /** Makes records, given the positions of the variables. */
    @FunctionalInterface
    interface Maker {
        void forEach(Consumer<Row> taker, Map<String, Integer> positions);
    }

    /** Makes records of episodes that come one by one, given the positions of the variables. */
    @FunctionalInterface
    interface EpisodeMaker {
        EpisodeTaker begin(Consumer<Row> taker, Map<String, Integer> positions);
    }

    /** Takes the episodes sent, in their order. */
    @FunctionalInterface
    interface EpisodeTaker {
        void accept(DeidentifiedEpisode episode);

        /** There are no more. */
        default void end() {}
    }

    /** A dataset whose records do not come from the episodes. */
    static Dataset of(String name, String label, Form form, List<Variable> variables, Maker records) {
        return ofEpisodes(name, label, form, variables, (taker, positions) -> new EpisodeTaker() {
            @Override
            public void accept(DeidentifiedEpisode episode) {
                // nothing comes of it
            }

            @Override
            public void end() {
                records.forEach(taker, positions);
            }
        });
    }

    static Dataset ofEpisodes(String name, String label, Form form, List<Variable> variables, EpisodeMaker records) {
        Map<String, Integer> positions = positions(variables);
        return new Dataset(name, label, form, variables, taker -> records.begin(taker, positions));
    }

    /** @throws IllegalArgumentException if two variables share a name, or the label is too long */
    Dataset {
        variables = List.copyOf(variables);
        CdiscNames.requireName(name);
        Set<String> names = new HashSet<>();
        for (Variable variable : variables) {
            if (!names.add(variable.name())) {
                throw new IllegalArgumentException("Two variables of " + name + " are called " + variable.name());
            }
        }
        if (label.length() > CdiscNames.LONGEST_NAME) {
            throw new IllegalArgumentException("Label of " + name + " is longer than 40 characters");
        }
    }

    /** Begins to make records. */
    @FunctionalInterface
    interface Records {
        /** Hands each record to {@code taker} as the episodes come. */
        EpisodeTaker begin(Consumer<Row> taker);
    }

    /** Positions of the variables, by name. */
    Map<String, Integer> positions() {
        return positions(variables);
    }

    static Map<String, Integer> positions(List<Variable> variables) {
        Map<String, Integer> positions = new HashMap<>();
        variables.forEach(v -> positions.put(v.name(), positions.size()));
        return positions;
    }

    /** A value of a record. */
    sealed interface Cell {
        /** Missing: null in Dataset-JSON, empty in CSV. */
        Cell NONE = new None();

        /** The text, or empty where it is missing or a number. */
        default Optional<String> asText() {
            return this instanceof Text t ? Optional.of(t.text()) : Optional.empty();
        }

        /** Missing. */
        record None() implements Cell {}

        /** A text or a date. */
        record Text(String text) implements Cell {}

        /** A number. */
        record Number(double value) implements Cell {}
    }

    /** One record; a variable that is not set is missing. */
    static final class Row {
        private final Map<String, Integer> positions;
        private final List<Cell> cells;

        Row(Map<String, Integer> positions) {
            this.positions = positions;
            this.cells = new ArrayList<>(Collections.nCopies(positions.size(), Cell.NONE));
        }

        private Row(Row other) {
            this.positions = other.positions;
            this.cells = new ArrayList<>(other.cells);
        }

        /** A record that begins with what is set in this one. */
        Row copy() {
            return new Row(this);
        }

        private void put(String variable, Cell cell) {
            Integer at = positions.get(variable);
            if (at == null) {
                throw new IllegalArgumentException("There is no variable " + variable);
            }
            cells.set(at, cell);
        }

        /** @throws IllegalArgumentException if the text is longer than 200 characters or there is no such variable */
        Row set(String variable, String text) {
            if (text.length() > CdiscNames.LONGEST_TEXT) {
                throw new IllegalArgumentException(variable + " is longer than 200 characters");
            }
            put(variable, text.isEmpty() ? Cell.NONE : new Cell.Text(text));
            return this;
        }

        Row set(String variable, double value) {
            put(variable, new Cell.Number(value));
            return this;
        }

        Row set(String variable, OptionalDouble value) {
            value.ifPresent(v -> put(variable, new Cell.Number(v)));
            return this;
        }

        List<Cell> cells() {
            return cells;
        }
    }
}
