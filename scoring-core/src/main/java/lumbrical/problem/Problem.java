package lumbrical.problem;

import java.util.List;
import java.util.Optional;

/**
 * One problem or note.
 *
 * @param place file, row and column
 * @param value what was found there; blank where it must not be echoed, such as free text or a birth date
 * @param code its kind
 * @param advice what is wrong and what to do, in the user's words
 * @param remedies what would mend it without touching the file, the likeliest first
 * @param patient the patient of the row, where the row is rejected and tells one; never printed
 */
public record Problem(
        Place place, String value, ProblemCode code, String advice, List<Remedy> remedies, Optional<String> patient) {
    /** Copies the list. */
    public Problem {
        remedies = List.copyOf(remedies);
    }

    /** A problem of nobody's row. */
    public Problem(Place place, String value, ProblemCode code, String advice, List<Remedy> remedies) {
        this(place, value, code, advice, remedies, Optional.empty());
    }

    /** A problem that only the file can mend. */
    public Problem(Place place, String value, ProblemCode code, String advice) {
        this(place, value, code, advice, List.of());
    }

    /** The same problem with what would mend it. */
    public Problem mendedBy(Remedy... means) {
        return new Problem(place, value, code, advice, List.of(means), patient);
    }

    /** The same problem of a row of that patient, if the row tells one. */
    public Problem of(Optional<String> whose) {
        return new Problem(place, value, code, advice, remedies, whose);
    }

    /** Whether it is only a note. */
    public boolean isNote() {
        return code.isNote();
    }
}
