package lumbrical.deidentify;

import java.util.Collections;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;

/**
 * How far somebody who knows a person can find that person in what is sent: how many subjects are alike. A subject counts once, with
 * all its episodes together. Counted on what would really be sent.
 *
 * @param person alike in what is sent of the person
 * @param forms alike in that of the person and in which instruments are sent
 * @param visits alike in what is sent of the person and in when the forms were filled in
 * @param coarsened by kind of value, in the order in which they are left blank, how many values were; empty where none was to be
 * @param episodesLeftOut episodes not sent, since too few subjects have as many
 */
public record Disclosure(Cells person, Cells forms, Cells visits, Map<String, Integer> coarsened, int episodesLeftOut) {
    /** Copies the map. */
    public Disclosure {
        coarsened = Collections.unmodifiableMap(new LinkedHashMap<>(coarsened));
    }

    /**
     * Subjects by the size of the group of those alike.
     *
     * @param k the smallest group in which nobody counts as told apart
     * @param fields what they are alike in, by the names of the columns
     * @param subjects all subjects
     * @param underK subjects in groups of fewer than {@code k}
     * @param unique subjects that are like nobody else
     */
    public record Cells(int k, List<String> fields, int subjects, int underK, int unique) {
        /** Copies the list. */
        public Cells {
            fields = List.copyOf(fields);
        }
    }

    /** Whether nobody is under the limit in what is sent of the person. */
    public boolean withinLimit() {
        return person.underK() == 0;
    }
}
