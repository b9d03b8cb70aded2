package lumbrical.registry;

import java.util.ArrayList;
import java.util.List;
import lumbrical.deidentify.Withheld;

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

    /** Everything not sent: rows without a sitting, sittings without an answer, then forms. */
    List<Withheld> withAll(List<Withheld> forms) {
        List<Withheld> all = new ArrayList<>(rejected);
        all.addAll(unanswered);
        all.addAll(forms);
        return all;
    }
}
