package lumbrical.problem;

/**
 * What would mend a problem without touching the file: something the caller of the library can say. The caller words it, since only it
 * knows how it is asked; the command line names its option.
 *
 * @param kind what would help
 * @param detail what to say there, such as the style of a date; may be blank
 */
public record Remedy(Kind kind, String detail) {
    /** What would help. */
    public enum Kind {
        /** Map a clinic's own headings to columns. */
        MAP_HEADINGS,
        /** Map a clinic's own answer texts to codes. */
        MAP_ANSWERS,
        /** Map a clinic's own word for a side; {@code detail} is the column and the word, separated by a comma. */
        MAP_SIDES,
        /** Say that the text in {@code detail} means not answered. */
        BLANK_TEXT,
        /** Name the style of dates, such as the one in {@code detail}. */
        DATE_STYLE,
        /** Say that numbers are written with a decimal comma. */
        DECIMAL_COMMA,
        /** Name the sheet, such as the one in {@code detail}. */
        SHEET,
        /** Name the encoding. */
        ENCODING,
        /** Let the file that exists be replaced. */
        OVERWRITE,
        /** Look at the list of instruments, or at the one in {@code detail}. */
        INSTRUMENTS,
        /** Leave rules from memory out. */
        PUBLISHED_ONLY,
        /** Take other columns of the episodes along. */
        CARRY,
        /** Give the visits. */
        SCHEDULE,
        /** Map a clinic's own names of conditions. */
        MAP_CONDITIONS,
        /** Go on without a table of decisions. */
        WITHOUT_DECISIONS
    }

    /** A remedy that needs no detail. */
    public static Remedy of(Kind kind) {
        return new Remedy(kind, "");
    }
}
