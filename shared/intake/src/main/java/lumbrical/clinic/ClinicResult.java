package lumbrical.clinic;

import java.util.ArrayList;
import java.util.List;
import lumbrical.batch.ScoringCounts;
import lumbrical.followup.FollowUpResult;
import lumbrical.intake.SittingRow;
import lumbrical.problem.Problem;
import lumbrical.tabular.InputFile;
import lumbrical.threshold.ThresholdChoice;

/**
 * What the files of a clinic say.
 *
 * @param followUp everything known of its patients over time; where the episodes went to a sink, its counts and problems alone
 * @param counts where each row went
 * @param choice the thresholds used
 * @param files the files read
 * @param unusedEpisodeColumns headings of the episodes that mean nothing here and are not carried
 * @param unanswered sittings without any answer
 * @param responseProblems problems and notes of the files of responses, in the order found
 * @param otherProblems problems and notes of the other files, of time and of plausibility
 */
public record ClinicResult(
        FollowUpResult followUp,
        ScoringCounts counts,
        ThresholdChoice choice,
        List<InputFile> files,
        List<String> unusedEpisodeColumns,
        List<SittingRow> unanswered,
        List<Problem> responseProblems,
        List<Problem> otherProblems) {
    /** Copies the lists. */
    public ClinicResult {
        files = List.copyOf(files);
        unusedEpisodeColumns = List.copyOf(unusedEpisodeColumns);
        unanswered = List.copyOf(unanswered);
        responseProblems = List.copyOf(responseProblems);
        otherProblems = List.copyOf(otherProblems);
    }

    /** All problems and notes. */
    public List<Problem> problems() {
        List<Problem> all = new ArrayList<>(responseProblems);
        all.addAll(otherProblems);
        return all;
    }
}
