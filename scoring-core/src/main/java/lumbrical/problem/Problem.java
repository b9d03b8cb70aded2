package lumbrical.problem;

/**
 * One problem or note.
 *
 * @param place file, row and column
 * @param value what was found there; blank where it must not be echoed, such as free text or a birth date
 * @param code its kind
 * @param advice what is wrong and what to do, in the user's words
 */
public record Problem(Place place, String value, ProblemCode code, String advice) {
    /** Whether it is only a note. */
    public boolean isNote() {
        return code.isNote();
    }
}
