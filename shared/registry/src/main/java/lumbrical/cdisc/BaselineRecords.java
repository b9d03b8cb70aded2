package lumbrical.cdisc;

import java.util.HashMap;
import java.util.HashSet;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import lumbrical.deidentify.DeidentifiedEpisode;
import lumbrical.deidentify.DeidentifiedForm;
import lumbrical.followup.AssignedScore;
import lumbrical.followup.Visit;
import lumbrical.instrument.Column;
import lumbrical.instrument.Side;

/**
 * The baseline record of each item in an episode: the last one with a result at a baseline visit, among the forms that gave a baseline
 * score where there are any. So each test has one at most, and instruments without a score have one too. Ours.
 */
final class BaselineRecords {
    private final Map<String, String> formByTest = new HashMap<>();
    private final Set<String> ofBaselineScore = new HashSet<>();

    private BaselineRecords() {}

    static BaselineRecords of(DeidentifiedEpisode episode, TestNames.Book names) {
        BaselineRecords records = new BaselineRecords();
        for (DeidentifiedForm form : episode.forms()) {
            boolean gaveBaseline = form.scores().stream().anyMatch(s -> s.use() == AssignedScore.Use.BASELINE);
            if (gaveBaseline || atBaselineVisit(form) && ofTreatedSide(episode, form)) {
                records.look(form, names.of(form.instrument()), gaveBaseline);
            }
        }
        return records;
    }

    /** Whether the item of that test on that form is the baseline. */
    boolean holds(String test, DeidentifiedForm form) {
        return form.key().equals(formByTest.get(test));
    }

    private void look(DeidentifiedForm form, TestNames names, boolean gaveBaseline) {
        for (Column column : form.columnsUsed()) {
            if (form.responses().allowed(column).isPresent()) {
                String test = names.item(column).code();
                if (gaveBaseline || !ofBaselineScore.contains(test)) {
                    formByTest.put(test, form.key());
                }
                if (gaveBaseline) {
                    ofBaselineScore.add(test);
                }
            }
        }
    }

    private static boolean atBaselineVisit(DeidentifiedForm form) {
        return form.visit().filter(v -> v.role() == Visit.Role.BASELINE).isPresent();
    }

    private static boolean ofTreatedSide(DeidentifiedEpisode episode, DeidentifiedForm form) {
        Optional<Side> side = form.side().filter(s -> s != Side.BOTH);
        return side.isEmpty() || episode.treatedSide().isEmpty() || side.equals(episode.treatedSide());
    }
}
