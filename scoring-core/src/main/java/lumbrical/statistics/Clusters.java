package lumbrical.statistics;

import java.util.Arrays;
import java.util.HashMap;
import java.util.List;
import java.util.Map;

/** Which of the values belong to one patient: the patients are what is independent, not their episodes. */
public final class Clusters {
    private final int[] indices;
    private final int count;

    private Clusters(int[] indices, int count) {
        this.indices = indices;
        this.count = count;
    }

    /** One patient for each value, in the order of the values; equal ids are one patient. */
    public static Clusters of(List<?> patients) {
        Map<Object, Integer> known = new HashMap<>();
        int[] indices = new int[patients.size()];
        int next = 0;
        for (Object patient : patients) {
            Integer index = known.putIfAbsent(patient, known.size());
            indices[next++] = index == null ? known.size() - 1 : index;
        }
        return new Clusters(indices, known.size());
    }

    /**
     * One patient for each value, by numbers: equal numbers are one patient.
     *
     * @throws IllegalArgumentException if a number is negative
     */
    public static Clusters of(int[] patients) {
        int[] known = new int[Math.max(0, Arrays.stream(patients).max().orElse(0)) + 1];
        int[] indices = new int[patients.length];
        int count = 0;
        for (int i = 0; i < indices.length; i++) {
            if (patients[i] < 0) {
                throw new IllegalArgumentException("A patient's number cannot be " + patients[i]);
            }
            if (known[patients[i]] == 0) {
                known[patients[i]] = ++count;
            }
            indices[i] = known[patients[i]] - 1;
        }
        return new Clusters(indices, count);
    }

    /** How many values there are. */
    public int size() {
        return indices.length;
    }

    /** How many patients there are. */
    public int count() {
        return count;
    }

    /** Whether a patient has more than one value. Where none has, the clustered and the plain interval of a mean are the same. */
    public boolean repeated() {
        return count < indices.length;
    }

    /** The patient of the value {@code i}, from 0 to {@code count() - 1}. */
    int of(int i) {
        return indices[i];
    }
}
