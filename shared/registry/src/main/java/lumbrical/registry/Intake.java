package lumbrical.registry;

import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.Set;
import lumbrical.deidentify.Withheld;
import lumbrical.problem.Place;
import lumbrical.problem.Problem;
import lumbrical.sitting.Sitting;

/**
 * What was read, for the reconciliation.
 *
 * @param files names of the files of responses, in order; a sitting is referred to by the number of its file
 * @param sittings sittings read
 * @param rejected rows that gave no sitting
 * @param unanswered sittings without any answer
 * @param episodeColumns headings of the episodes
 * @param unusedColumns headings of the responses that mean nothing here
 */
public record Intake(
        List<String> files,
        long sittings,
        List<Withheld> rejected,
        List<Withheld> unanswered,
        List<String> episodeColumns,
        List<String> unusedColumns) {
    /** Copies the lists. */
    public Intake {
        files = List.copyOf(files);
        rejected = List.copyOf(rejected);
        unanswered = List.copyOf(unanswered);
        episodeColumns = List.copyOf(episodeColumns);
        unusedColumns = List.copyOf(unusedColumns);
    }

    /**
     * What was read.
     *
     * @param rowsRejected rows that gave no sitting
     * @param problems problems of the files of responses
     * @param blankRows sittings without any answer
     * @param refusing patients of whom at least one episode may not be shared
     * @throws IllegalStateException if a rejected row has no reason: nothing is dropped silently
     */
    public static Intake of(
            List<String> files,
            long sittings,
            long rowsRejected,
            List<Problem> problems,
            List<Sitting> blankRows,
            Set<String> refusing,
            List<String> episodeColumns,
            List<String> unusedColumns) {
        List<Withheld> rejected = new ArrayList<>();
        Optional<Place> last = Optional.empty();
        for (Problem problem : problems) {
            if (problem.code().rejectsRow()) {
                Optional<Place> row = Optional.of(
                        new Place(problem.place().file(), problem.place().row(), Optional.empty()));
                if (!row.equals(last)) { // several faults of one row follow each other
                    rejected.add(new Withheld(
                            problem.place(),
                            problem.place().column().orElse(""),
                            Optional.empty(),
                            problem.code().code(),
                            refusing.isEmpty()
                                    || problem.patient()
                                            .filter(p -> !refusing.contains(p))
                                            .isPresent()));
                }
                last = row;
            }
        }
        if (rejected.size() != rowsRejected) {
            throw new IllegalStateException(
                    rowsRejected + " rows were rejected, but " + rejected.size() + " are known by reason");
        }
        return new Intake(
                files,
                sittings,
                rejected,
                blankRows.stream()
                        .map(sitting -> new Withheld(
                                sitting.place(),
                                "",
                                Optional.empty(),
                                Withheld.NOTHING_ANSWERED,
                                !refusing.contains(sitting.patient())))
                        .toList(),
                episodeColumns,
                unusedColumns);
    }

    /** Everything not sent: rows without a sitting, sittings without an answer, then forms. */
    List<Withheld> withAll(List<Withheld> forms) {
        List<Withheld> all = new ArrayList<>(rejected);
        all.addAll(unanswered);
        all.addAll(forms);
        return all;
    }
}
