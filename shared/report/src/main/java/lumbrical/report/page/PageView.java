package lumbrical.report.page;

import java.util.List;
import java.util.Optional;
import lumbrical.report.html.Origin;
import lumbrical.report.html.PageParts;

/**
 * A whole page.
 *
 * @param title its title
 * @param parts policy, style sheet and script
 * @param asOf the day on which things are looked at
 * @param list the list to search; empty on a page of named patients
 * @param patients the patients, made as they are printed
 * @param thresholds the thresholds used; complete once the patients are printed
 * @param instruments the questionnaires
 * @param origin where the page comes from
 */
record PageView(
        String title,
        PageParts parts,
        String asOf,
        Optional<ClinicList> list,
        Iterable<PatientView> patients,
        List<ThresholdLine> thresholds,
        List<InstrumentLine> instruments,
        Origin origin) {
    /** A threshold and whom it comes from. */
    record ThresholdLine(
            String name, String kind, String value, String usedFor, String population, String method, String source) {}

    /** A questionnaire, its definition, licence and notes. */
    record InstrumentLine(String title, String definition, String licence, List<String> notes) {
        InstrumentLine {
            notes = List.copyOf(notes);
        }
    }

    /**
     * The list of a clinic.
     *
     * @param rows an episode each
     * @param conditions the conditions there are
     * @param verdicts the verdicts there are
     * @param states the states of what is due that there are
     */
    record ClinicList(List<Row> rows, List<Choice> conditions, List<Choice> verdicts, List<Choice> states) {
        ClinicList {
            rows = List.copyOf(rows);
            conditions = List.copyOf(conditions);
            verdicts = List.copyOf(verdicts);
            states = List.copyOf(states);
        }
    }

    /** A choice of a filter. */
    record Choice(String code, String words) {}

    /**
     * An episode in the list.
     *
     * @param anchor where it stands
     * @param condition number of its condition
     * @param verdicts codes of its latest verdicts on main scales, separated by blanks
     * @param states codes of what is due, separated by blanks
     */
    record Row(
            String anchor,
            String patient,
            String episode,
            String side,
            String conditionShown,
            String indexDate,
            List<String> latest,
            String due,
            String condition,
            String verdicts,
            String states) {
        Row {
            latest = List.copyOf(latest);
        }
    }
}
