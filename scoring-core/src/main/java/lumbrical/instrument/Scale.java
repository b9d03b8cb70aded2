package lumbrical.instrument;

import java.util.List;
import java.util.Optional;

/**
 * A score that an instrument gives, and how.
 *
 * @param id its name within the instrument
 * @param title its name in words
 * @param composition what it is made of
 * @param range the lowest and highest possible score
 * @param better which end is the good one
 * @param metric its unit family
 * @param optional whether it is a module that a person may rightly leave out
 * @param reported false for a part that is only a step of another scale
 * @param noVerdictBefore first day after treatment from which a change may be judged
 * @param main whether a summary for the patient speaks of this scale
 * @param defaults thresholds used unless the user chooses others
 * @param conditionDefaults thresholds used instead for episodes of one condition
 */
public record Scale(
        ScaleId id,
        String title,
        Composition composition,
        Range range,
        Direction better,
        Metric metric,
        boolean optional,
        boolean reported,
        Optional<NoVerdictBefore> noVerdictBefore,
        boolean main,
        Optional<Defaults> defaults,
        List<ConditionDefaults> conditionDefaults) {

    /** Copies the list. */
    public Scale {
        conditionDefaults = List.copyOf(conditionDefaults);
    }

    /** Of the id, which tells the scales of an instrument apart: what a scale is made of is long. */
    @Override
    public int hashCode() {
        return id.hashCode();
    }

    /**
     * Too early to judge.
     *
     * @param day days after the index date, from which on a change may be judged
     * @param reason why, in words
     */
    public record NoVerdictBefore(int day, String reason, Provenance provenance) {}

    /**
     * Ids of the thresholds used unless the user chooses others.
     *
     * @param reason why these, in words a surgeon can argue with
     */
    public record Defaults(Optional<String> mcid, Optional<String> mdc, Optional<String> pass, String reason) {}

    /**
     * The thresholds used for episodes of one condition; for a kind that is empty here the general default holds.
     *
     * @param condition id of the condition
     * @param defaults the thresholds, and why these
     */
    public record ConditionDefaults(String condition, Defaults defaults) {}

    /**
     * The scales of which a summary speaks: those marked; if none is, {@code total}; if there is none, every reported scale that is
     * not optional.
     */
    public static List<Scale> mainOf(List<Scale> scales) {
        List<Scale> marked = scales.stream().filter(Scale::main).toList();
        if (!marked.isEmpty()) {
            return marked;
        }
        List<Scale> total =
                scales.stream().filter(s -> s.id().value().equals("total")).toList();
        return !total.isEmpty()
                ? total
                : scales.stream().filter(s -> s.reported() && !s.optional()).toList();
    }

    /** Starts a scale: lower better, reported, neither optional nor main, without defaults. */
    public static Builder builder(ScaleId id, String title, Composition composition, Range range, Metric metric) {
        return new Builder(id, title, composition, range, metric);
    }

    /** This scale to start another from. */
    public Builder toBuilder() {
        Builder b = new Builder(id, title, composition, range, metric);
        b.better = better;
        b.optional = optional;
        b.reported = reported;
        b.noVerdictBefore = noVerdictBefore;
        b.main = main;
        b.defaults = defaults;
        b.conditionDefaults = conditionDefaults;
        return b;
    }

    /** Puts a scale together. */
    public static final class Builder {
        private final ScaleId id;
        private final String title;
        private Composition composition;
        private final Range range;
        private final Metric metric;
        private Direction better = Direction.LOWER;
        private boolean optional;
        private boolean reported = true;
        private Optional<NoVerdictBefore> noVerdictBefore = Optional.empty();
        private boolean main;
        private Optional<Defaults> defaults = Optional.empty();
        private List<ConditionDefaults> conditionDefaults = List.of();

        private Builder(ScaleId id, String title, Composition composition, Range range, Metric metric) {
            this.id = id;
            this.title = title;
            this.composition = composition;
            this.range = range;
            this.metric = metric;
        }

        /** What it is made of. */
        public Builder composition(Composition madeOf) {
            composition = madeOf;
            return this;
        }

        /** Which end is the good one. */
        public Builder better(Direction direction) {
            better = direction;
            return this;
        }

        /** Whether it is a module that a person may rightly leave out. */
        public Builder optional(boolean mayBeLeftOut) {
            optional = mayBeLeftOut;
            return this;
        }

        /** False for a part that is only a step of another scale. */
        public Builder reported(boolean onItsOwn) {
            reported = onItsOwn;
            return this;
        }

        /** First day from which a change may be judged. */
        public Builder noVerdictBefore(Optional<NoVerdictBefore> day) {
            noVerdictBefore = day;
            return this;
        }

        /** Whether a summary speaks of this scale. */
        public Builder main(boolean inSummaries) {
            main = inSummaries;
            return this;
        }

        /** Thresholds used unless the user chooses others. */
        public Builder defaults(Optional<Defaults> general) {
            defaults = general;
            return this;
        }

        /** Thresholds used for episodes of one condition. */
        public Builder conditionDefaults(List<ConditionDefaults> each) {
            conditionDefaults = List.copyOf(each);
            return this;
        }

        /** The scale. */
        public Scale build() {
            return new Scale(
                    id,
                    title,
                    composition,
                    range,
                    better,
                    metric,
                    optional,
                    reported,
                    noVerdictBefore,
                    main,
                    defaults,
                    conditionDefaults);
        }
    }
}
