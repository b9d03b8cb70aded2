package lumbrical.instrument;

/** How a scale is computed from other scales. Every part must have a score. */
public sealed interface PartRule {
    /** Who states the formula. */
    Provenance provenance();

    /** What the sum of {@code parts} scores is divided by. */
    int dividedBy(int parts);

    /** What {@code kinds} makes of this kind of rule. */
    <T> T fold(Kinds<T> kinds);

    /**
     * A case for every kind of rule.
     *
     * @param <T> what is made of a rule
     */
    interface Kinds<T> {
        /** A sum of parts. */
        T sumOfParts(SumOfParts rule);

        /** A mean of parts. */
        T meanOfParts(MeanOfParts rule);
    }

    /** Sum of the parts. */
    record SumOfParts(Provenance provenance) implements PartRule {
        @Override
        public int dividedBy(int parts) {
            return 1;
        }

        @Override
        public <T> T fold(Kinds<T> kinds) {
            return kinds.sumOfParts(this);
        }
    }

    /** Mean of the parts. */
    record MeanOfParts(Provenance provenance) implements PartRule {
        @Override
        public int dividedBy(int parts) {
            return parts;
        }

        @Override
        public <T> T fold(Kinds<T> kinds) {
            return kinds.meanOfParts(this);
        }
    }
}
