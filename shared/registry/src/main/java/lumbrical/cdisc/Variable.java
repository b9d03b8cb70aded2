package lumbrical.cdisc;

import java.util.Optional;

/**
 * A variable of a dataset.
 *
 * @param name at most eight capital letters, digits or underscores, not starting with a digit
 * @param label at most forty characters
 * @param type kind of values
 * @param key place among the key variables, from 1; 0 = none
 * @param origin where it comes from or how it is derived; of a predecessor, the variable it is taken from
 * @param source the kind of origin
 * @param terms the code list that its values are of
 * @param required whether the standard lets no record be without it
 */
record Variable(
        String name, String label, Type type, int key, String origin, Source source, Terms terms, boolean required) {
    private static final int LONGEST_LABEL = 40;

    /** Kinds of values, with the data types of Dataset-JSON 1.1. */
    enum Type {
        TEXT("string", Optional.empty(), Optional.empty()),
        INTEGER("integer", Optional.empty(), Optional.empty()),
        NUMBER("double", Optional.empty(), Optional.empty()),
        /** An ISO 8601 date of SDTM, which may be a year alone. */
        ISO_DATE("string", Optional.empty(), Optional.empty()),
        /** An ISO 8601 duration of SDTM. */
        DURATION("string", Optional.empty(), Optional.empty()),
        /** A numeric date of ADaM, written as an ISO 8601 string. */
        DATE("date", Optional.of("integer"), Optional.of("E8601DA."));

        private final String dataType;
        private final Optional<String> targetDataType;
        private final Optional<String> displayFormat;

        Type(String dataType, Optional<String> targetDataType, Optional<String> displayFormat) {
            this.dataType = dataType;
            this.targetDataType = targetDataType;
            this.displayFormat = displayFormat;
        }

        String dataType() {
            return dataType;
        }

        Optional<String> targetDataType() {
            return targetDataType;
        }

        Optional<String> displayFormat() {
            return displayFormat;
        }
    }

    /** Kinds of origin, with the words of Define-XML 2.1. */
    enum Source {
        ASSIGNED("Assigned"),
        COLLECTED("Collected"),
        DERIVED("Derived"),
        PROTOCOL("Protocol"),
        PREDECESSOR("Predecessor"),
        /** Of the standard, and not held here: always missing. */
        NOT_AVAILABLE("Not Available");

        private final String word;

        Source(String word) {
            this.word = word;
        }

        String word() {
            return word;
        }
    }

    /** @throws IllegalArgumentException if the name or the label breaks the limits of SDTM and ADaM */
    Variable {
        CdiscNames.requireName(name);
        if (label.isBlank() || label.length() > LONGEST_LABEL) {
            throw new IllegalArgumentException("Label of " + name + " must have 1 to 40 characters: " + label);
        }
    }

    static Variable of(String name, String label, Type type, String origin) {
        return new Variable(name, label, type, 0, origin, Source.ASSIGNED, Terms.FREE, false);
    }

    static Variable text(String name, String label, String origin) {
        return of(name, label, Type.TEXT, origin);
    }

    static Variable integer(String name, String label, String origin) {
        return of(name, label, Type.INTEGER, origin);
    }

    static Variable number(String name, String label, String origin) {
        return of(name, label, Type.NUMBER, origin);
    }

    Variable key(int place) {
        return new Variable(name, label, type, place, origin, source, terms, required);
    }

    Variable collected() {
        return source(Source.COLLECTED);
    }

    Variable derived() {
        return source(Source.DERIVED);
    }

    Variable protocol() {
        return source(Source.PROTOCOL);
    }

    /** Its origin is the variable it is taken from, such as {@code DM.SEX}. */
    Variable predecessor() {
        return source(Source.PREDECESSOR);
    }

    /** A variable that the standard has and this program does not hold. */
    Variable notHeld() {
        return source(Source.NOT_AVAILABLE);
    }

    private Variable source(Source of) {
        return new Variable(name, label, type, key, origin, of, terms, required);
    }

    Variable terms(Terms of) {
        return new Variable(name, label, type, key, origin, source, of, required);
    }

    /** The standard requires it ("Req"). */
    Variable requiredByStandard() {
        return new Variable(name, label, type, key, origin, source, terms, true);
    }

    boolean held() {
        return source != Source.NOT_AVAILABLE;
    }
}
