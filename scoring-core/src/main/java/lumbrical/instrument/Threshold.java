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
 * @param boundTo conditions for whose episodes alone the value counts; empty = no such bound
 * @param n number of people
 * @param method how it was found
 * @param followUp interval between baseline and follow-up, in words
 * @param study one word per study
 * @param recommended whether the study recommends this one among its own
 * @param provenance standing and source
 * @param offered false for a value kept because it is published, and never used
 * @param whyNotOffered reason for that
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
        List<String> boundTo,
        OptionalInt n,
        String method,
        Optional<String> followUp,
        String study,
        boolean recommended,
        Provenance provenance,
        boolean offered,
        Optional<String> whyNotOffered,
        Optional<String> note) {

    /** Copies the list. */
    public Threshold {
        boundTo = List.copyOf(boundTo);
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
    public boolean borrowed() {
        return group != Group.HAND_WRIST && group != Group.UPPER_LIMB;
    }
}
