/**
 * Model of an instrument, scoring, change over time and thresholds: pure functions on immutable values.
 *
 * <p>Nothing here reads a file, a clock or a locale. Start at {@link org.handoutcomes.scoring.ScoringPlan}.
 */
module org.handoutcomes.core {
    requires static transitive org.jspecify;

    exports org.handoutcomes.followup;
    exports org.handoutcomes.grip;
    exports org.handoutcomes.instrument;
    exports org.handoutcomes.plausibility;
    exports org.handoutcomes.problem;
    exports org.handoutcomes.scoring;
    exports org.handoutcomes.sitting;
    exports org.handoutcomes.statistics;
    exports org.handoutcomes.threshold;
}
