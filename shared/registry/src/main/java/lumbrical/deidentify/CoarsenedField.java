package lumbrical.deidentify;

import java.util.Set;

/** What can be left blank so that a subject is like others, in the order in which it is. */
enum CoarsenedField {
    /** Columns that a profile adds; nobody else can say what they are worth. */
    OTHER("other columns", Set.of()),
    PROCEDURE("procedure", Set.of("procedure")),
    CLOSURE("closure", Set.of("closed_reason", "closed_day", "closed_week")),
    LANGUAGE("language", Set.of("language")),
    AGE("age band", Set.of("age", "age_band")),
    SIDE("side", Set.of("treated_side", "dominant_side")),
    SEX("sex", Set.of("sex")),
    CONDITION("condition", Set.of("condition"));

    private final String words;
    private final Set<String> columns;

    CoarsenedField(String words, Set<String> columns) {
        this.words = words;
        this.columns = columns;
    }

    String words() {
        return words;
    }

    /** To which a column belongs. */
    static CoarsenedField of(String column) {
        for (CoarsenedField field : values()) {
            if (field.columns.contains(column)) {
                return field;
            }
        }
        return OTHER;
    }
}
