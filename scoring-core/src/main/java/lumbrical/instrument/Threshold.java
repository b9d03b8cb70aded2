package lumbrical.instrument;

import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.OptionalInt;

/**
 * A published (or remembered, and then marked) number against which a score or a change can be set. It holds for the
 * population it came from.
 *
 * @param id its name within the instrument
 * @param scale the scale it belongs to
 * @param kind what it is
 * @param metric unit family of the value
 * @param value the number in the scale's units; empty where the source could estimate none or prints a span
 * @param ends lowest and highest value by method, where the source prints a span
 * @param interval confidence interval
 * @param sd standard deviation beside the value
 * @param level 90 or 95 for an MDC
 * @param better direction in which the value counts; the scale's
 * @param population who was studied, in words
 * @param group kind of population
 * @param condition our short word for the condition studied
 * @param conditions conditions, by id or by a text of their own, for whose episodes alone the value counts; empty = no such bound
 * @param treatment the treatment studied, in words
 * @param baseline where the baseline of the study lies; empty where the definition does not say
 * @param n number of people
 * @param method how it was found
 * @param followUp interval between baseline and follow-up, in words
 * @param study one word per study
 * @param recommended whether the study recommends this one among its own
 * @param ofOneItem whether it holds for a change over a single item, where the scale compares the items rated at both sittings
 * @param provenance standing and source
 * @param selectable false for a value kept because it is published, and never used
 * @param whyNotSelectable reason for that
 * @param note a sentence a user should read
 */
public record Threshold(
        String id,
        ScaleId scale,
        Kind kind,
        Metric metric,
        OptionalDouble value,
        Optional<Range> ends,
        Optional<Interval> interval,
        OptionalDouble sd,
        OptionalInt level,
        Direction better,
        String population,
        Group group,
        Optional<String> condition,
        List<String> conditions,
        Optional<String> treatment,
        Optional<Baseline> baseline,
        OptionalInt n,
        String method,
        Optional<String> followUp,
        String study,
        boolean recommended,
        boolean ofOneItem,
        Provenance provenance,
        boolean selectable,
        Optional<String> whyNotSelectable,
        Optional<String> note) {

    /** Copies the list. */
    public Threshold {
        conditions = List.copyOf(conditions);
    }

    /** Of the id, which tells those of an instrument apart: there are many components, and a table asks for it with every change. */
    @Override
    public int hashCode() {
        return id.hashCode();
    }

    /** Whether it comes from how widely scores spread alone, so that no patient was asked what matters. */
    public boolean byDistribution() {
        return method.startsWith("distribution") || method.equals("half SD");
    }

    /** What a threshold is. */
    public enum Kind {
        /** Minimal clinically important difference: the smallest change that matters to the person. */
        MCID("mcid"),
        /** Minimal detectable change: the smallest change beyond measurement error. */
        MDC("mdc"),
        /** Standard error of measurement. */
        SEM("sem"),
        /** Patient acceptable symptom state: the score from which a person is content. */
        PASS("pass"),
        /** Mean of a reference population. */
        NORM("norm"),
        /** Intraclass correlation. */
        ICC("icc"),
        /** Cronbach's alpha. */
        ALPHA("alpha"),
        /** Correlation of test and retest. */
        RETEST_R("retest-r"),
        /** Kappa. */
        KAPPA("kappa"),
        /** Effect size. */
        ES("es"),
        /** Standardised response mean. */
        SRM("srm");

        private final String code;

        Kind(String code) {
            this.code = code;
        }

        /** The word used in definitions and outputs. */
        public String code() {
            return code;
        }
    }

    /** Kind of population. */
    public enum Group {
        HAND_WRIST("hand-wrist"),
        UPPER_LIMB("upper-limb"),
        SHOULDER("shoulder"),
        LOW_BACK("low-back"),
        OTHER("other");

        private final String code;

        Group(String code) {
            this.code = code;
        }

        /** The word used in definitions and outputs. */
        public String code() {
            return code;
        }
    }

    /**
     * A confidence interval.
     *
     * @param percent its level, such as 95
     */
    public record Interval(double low, double high, int percent) {}

    /** Whether the population is not of the hand, the wrist or the upper limb in general: listed, never counted. */
    public boolean otherPopulation() {
        return group != Group.HAND_WRIST && group != Group.UPPER_LIMB;
    }

    /** Where the baseline of a study lies. A change counts from there, so values of different baselines are never interchangeable. */
    public enum Baseline {
        /** Before the treatment, of a condition that has lasted. */
        BEFORE_TREATMENT("before-treatment", "before treatment"),
        /** At a fresh injury, so that healing alone brings a large change. */
        FRESH_INJURY("fresh-injury", "at the fresh injury"),
        /** After an operation or in the course of treatment, such as at the start of therapy. */
        AFTER_TREATMENT("after-treatment", "after treatment had begun"),
        /** What was seen of the source does not say. */
        NOT_STATED("not-stated", "not stated");

        private final String code;
        private final String words;

        Baseline(String code, String words) {
            this.code = code;
            this.words = words;
        }

        /** The word used in definitions. */
        public String code() {
            return code;
        }

        /** In words for people. */
        public String words() {
            return words;
        }
    }

    /**
     * Starts a threshold: published, of hand or wrist, lower better, selectable, without a value and of no further population, so
     * that only what matters need be said.
     */
    public static Builder builder(String id, ScaleId scale, Kind kind, Metric metric, Provenance provenance) {
        return new Builder(id, scale, kind, metric, provenance);
    }

    /** This threshold to start another from. */
    public Builder toBuilder() {
        Builder b = new Builder(id, scale, kind, metric, provenance);
        b.value = value;
        b.ends = ends;
        b.interval = interval;
        b.sd = sd;
        b.level = level;
        b.better = better;
        b.population = population;
        b.group = group;
        b.condition = condition;
        b.conditions = conditions;
        b.treatment = treatment;
        b.baseline = baseline;
        b.n = n;
        b.method = method;
        b.followUp = followUp;
        b.study = study;
        b.recommended = recommended;
        b.ofOneItem = ofOneItem;
        b.whyNotSelectable = whyNotSelectable;
        b.selectable = selectable;
        b.note = note;
        return b;
    }

    /** Puts a threshold together. */
    public static final class Builder {
        private final String id;
        private final ScaleId scale;
        private final Kind kind;
        private final Metric metric;
        private final Provenance provenance;
        private OptionalDouble value = OptionalDouble.empty();
        private Optional<Range> ends = Optional.empty();
        private Optional<Interval> interval = Optional.empty();
        private OptionalDouble sd = OptionalDouble.empty();
        private OptionalInt level = OptionalInt.empty();
        private Direction better = Direction.LOWER;
        private String population = "not stated";
        private Group group = Group.HAND_WRIST;
        private Optional<String> condition = Optional.empty();
        private List<String> conditions = List.of();
        private Optional<String> treatment = Optional.empty();
        private Optional<Baseline> baseline = Optional.empty();
        private OptionalInt n = OptionalInt.empty();
        private String method = "not stated";
        private Optional<String> followUp = Optional.empty();
        private String study;
        private boolean recommended;
        private boolean ofOneItem;
        private boolean selectable = true;
        private Optional<String> whyNotSelectable = Optional.empty();
        private Optional<String> note = Optional.empty();

        private Builder(String id, ScaleId scale, Kind kind, Metric metric, Provenance provenance) {
            this.id = id;
            this.scale = scale;
            this.kind = kind;
            this.metric = metric;
            this.provenance = provenance;
            this.study = provenance.source();
        }

        /** The number in the scale's units. */
        public Builder value(OptionalDouble number) {
            value = number;
            return this;
        }

        /** The number in the scale's units. */
        public Builder value(double number) {
            return value(OptionalDouble.of(number));
        }

        /** Lowest and highest value by method, where the source prints a span. */
        public Builder ends(Optional<Range> span) {
            ends = span;
            return this;
        }

        /** Confidence interval. */
        public Builder interval(Optional<Interval> confidence) {
            interval = confidence;
            return this;
        }

        /** Standard deviation beside the value. */
        public Builder sd(OptionalDouble number) {
            sd = number;
            return this;
        }

        /** 90 or 95 for an MDC. */
        public Builder level(OptionalInt percent) {
            level = percent;
            return this;
        }

        /** Direction in which the value counts; the scale's. */
        public Builder better(Direction direction) {
            better = direction;
            return this;
        }

        /** Who was studied, in words, and what kind of population that is. */
        public Builder population(String words, Group kindOfPopulation) {
            population = words;
            group = kindOfPopulation;
            return this;
        }

        /** Our short word for the condition studied. */
        public Builder condition(Optional<String> word) {
            condition = word;
            return this;
        }

        /** Conditions for whose episodes alone the value counts. */
        public Builder conditions(List<String> ids) {
            conditions = List.copyOf(ids);
            return this;
        }

        /** The treatment studied. */
        public Builder treatment(Optional<String> words) {
            treatment = words;
            return this;
        }

        /** Where the baseline of the study lies. */
        public Builder baseline(Optional<Baseline> where) {
            baseline = where;
            return this;
        }

        /** Number of people. */
        public Builder n(OptionalInt people) {
            n = people;
            return this;
        }

        /** How it was found. */
        public Builder method(String words) {
            method = words;
            return this;
        }

        /** Interval between baseline and follow-up, in words. */
        public Builder followUp(Optional<String> words) {
            followUp = words;
            return this;
        }

        /** One word per study; at first the source's key. */
        public Builder study(String word) {
            study = word;
            return this;
        }

        /** Whether the study recommends this one among its own. */
        public Builder recommended(boolean byTheStudy) {
            recommended = byTheStudy;
            return this;
        }

        /** Whether it holds for a change over a single item. */
        public Builder ofOneItem(boolean single) {
            ofOneItem = single;
            return this;
        }

        /** Whether it may be used, and why not if it may not. */
        public Builder selectable(boolean usable, Optional<String> whyNot) {
            selectable = usable;
            whyNotSelectable = whyNot;
            return this;
        }

        /** A sentence a user should read. */
        public Builder note(Optional<String> sentence) {
            note = sentence;
            return this;
        }

        /** The threshold. */
        public Threshold build() {
            return new Threshold(
                    id,
                    scale,
                    kind,
                    metric,
                    value,
                    ends,
                    interval,
                    sd,
                    level,
                    better,
                    population,
                    group,
                    condition,
                    conditions,
                    treatment,
                    baseline,
                    n,
                    method,
                    followUp,
                    study,
                    recommended,
                    ofOneItem,
                    provenance,
                    selectable,
                    whyNotSelectable,
                    note);
        }
    }
}
