/**
 * Model of an instrument, scoring, change over time and thresholds: pure functions on immutable values.
 *
 * <p>Nothing here reads a file, a clock or a locale. Start at {@link lumbrical.scoring.ScoringPlan}.
 */
module lumbrical.core {
    requires static org.jspecify;
    requires org.apache.commons.rng.api;
    requires org.apache.commons.rng.simple;
    requires org.apache.commons.statistics.descriptive;
    requires org.apache.commons.statistics.distribution;

    exports lumbrical.change;
    exports lumbrical.cohort;
    exports lumbrical.condition;
    exports lumbrical.followup;
    exports lumbrical.grip;
    exports lumbrical.instrument;
    exports lumbrical.number;
    exports lumbrical.plausibility;
    exports lumbrical.problem;
    exports lumbrical.scoring;
    exports lumbrical.sitting;
    exports lumbrical.statistics;
    exports lumbrical.threshold;
}
