package lumbrical.cdisc;

import java.util.Optional;

/**
 * A variable of a dataset.
 *
 * @param name at most eight capital letters, digits or underscores, not starting with a digit
 * @param label at most forty characters
 * @param type kind of values
 * @param key place among the key variables, from 1; 0 = none
 * @param origin where it comes from or how it is derived, for the data dictionary
 */
record Variable(String name, String label, Type type, int key, String origin) {
    private static final int LONGEST_LABEL = 40;

    /** Kinds of values, with the data types of Dataset-JSON 1.1. */
    enum Type {
        TEXT("string", Optional.empty(), Optional.empty()),
        INTEGER("integer", Optional.empty(), Optional.empty()),
        NUMBER("double", Optional.empty(), Optional.empty()),
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

    /** @throws IllegalArgumentException if the name or the label breaks the limits of SDTM and ADaM */
    Variable {
        CdiscNames.requireName(name);
        if (label.isBlank() || label.length() > LONGEST_LABEL) {
            throw new IllegalArgumentException("Label of " + name + " must have 1 to 40 characters: " + label);
        }
    }

    static Variable text(String name, String label, String origin) {
        return new Variable(name, label, Type.TEXT, 0, origin);
    }

    static Variable integer(String name, String label, String origin) {
        return new Variable(name, label, Type.INTEGER, 0, origin);
    }

    static Variable number(String name, String label, String origin) {
        return new Variable(name, label, Type.NUMBER, 0, origin);
    }

    Variable key(int place) {
        return new Variable(name, label, type, place, origin);
    }
}
