package lumbrical.instrument;

import java.util.Collections;
import java.util.List;
import java.util.SortedMap;
import java.util.TreeMap;

/** The responses that an item allows. */
public sealed interface ResponseSet {
    /** Name within the definition. */
    String name();

    /** Who says that these are the responses. */
    Provenance provenance();

    /** Our own word for a code, where the definition gives one. */
    SortedMap<Double, String> labels();

    /** The numerically lowest response. */
    double low();

    /** The numerically highest response. */
    double high();

    /** Whether {@code value} may be given as a response; false for NaN. */
    boolean allows(double value);

    /** What {@code kinds} makes of this kind of set. */
    <T> T fold(Kinds<T> kinds);

    /**
     * A case for every kind of set.
     *
     * @param <T> what is made of a set
     */
    interface Kinds<T> {
        /** A list of codes. */
        T codes(Codes set);

        /** Any number in a range. */
        T continuous(Continuous set);
    }

    /**
     * A list of codes.
     *
     * @param codes the allowed codes, ascending and distinct, at least one
     */
    record Codes(String name, List<Double> codes, SortedMap<Double, String> labels, Provenance provenance)
            implements ResponseSet {
        /** @throws IllegalArgumentException if {@code codes} is empty or not strictly ascending */
        public Codes {
            codes = List.copyOf(codes);
            labels = Collections.unmodifiableSortedMap(new TreeMap<>(labels));
            if (codes.isEmpty()) {
                throw new IllegalArgumentException("Response set " + name + " has no codes");
            }
            for (int i = 1; i < codes.size(); i++) {
                if (!(codes.get(i - 1) < codes.get(i))) {
                    throw new IllegalArgumentException("Codes of response set " + name + " must ascend");
                }
            }
        }

        @Override
        public double low() {
            return codes.get(0);
        }

        @Override
        public double high() {
            return codes.get(codes.size() - 1);
        }

        @Override
        public boolean allows(double value) {
            return codes.contains(value + 0.0); // -0.0 and 0.0 are one code
        }

        @Override
        public <T> T fold(Kinds<T> kinds) {
            return kinds.codes(this);
        }
    }

    /**
     * Any number in a range, such as a mark on a visual scale.
     *
     * @param range ends, both allowed
     */
    record Continuous(String name, Range range, SortedMap<Double, String> labels, Provenance provenance)
            implements ResponseSet {
        /** Copies the labels. */
        public Continuous {
            labels = Collections.unmodifiableSortedMap(new TreeMap<>(labels));
        }

        @Override
        public double low() {
            return range.low();
        }

        @Override
        public double high() {
            return range.high();
        }

        @Override
        public boolean allows(double value) {
            return range.contains(value);
        }

        @Override
        public <T> T fold(Kinds<T> kinds) {
            return kinds.continuous(this);
        }
    }
}
