package lumbrical.report.page;

import java.util.List;

/**
 * What a page shows of one episode.
 *
 * @param anchor its name in the page
 * @param patient pseudonymous id
 * @param id unique within the patient
 * @param title what was treated
 * @param facts who and what, in short
 * @param sentences one for each main scale
 * @param sheetMark the line above it where it begins a new sheet; else blank
 * @param parts the summary of its scales, cut where a new sheet begins
 * @param scales its scales
 * @param grips the functional tasks by visit
 * @param due what is due, and what comes next
 * @param notes what else to know
 */
record EpisodeView(
        String anchor,
        String patient,
        String id,
        String title,
        List<String> facts,
        List<String> sentences,
        String sheetMark,
        List<Part> parts,
        List<ScaleView> scales,
        List<GripLine> grips,
        List<String> due,
        List<String> notes) {
    EpisodeView {
        facts = List.copyOf(facts);
        sentences = List.copyOf(sentences);
        parts = List.copyOf(parts);
        scales = List.copyOf(scales);
        grips = List.copyOf(grips);
        due = List.copyOf(due);
        notes = List.copyOf(notes);
    }

    /**
     * Lines of the summary that stand on one sheet.
     *
     * @param sheetMark the line above them where a new sheet begins; else blank
     */
    record Part(String sheetMark, List<ScaleView> scales) {
        Part {
            scales = List.copyOf(scales);
        }
    }

    /**
     * The six grips of one hand at one visit.
     *
     * @param visit visit and day
     * @param hand treated hand, other hand, or the person
     * @param latest whether it is of the latest sitting
     * @param values by grip, in the order of {@link lumbrical.grip.GripRow}; a dash where none was asked
     */
    record GripLine(String visit, String hand, boolean latest, List<String> values) {
        GripLine {
            values = List.copyOf(values);
        }
    }

    /** The same with its drawings and cuts as the sheet has room. */
    EpisodeView laidOut(String mark, List<Part> cut, List<ScaleView> withDrawings) {
        return new EpisodeView(
                anchor, patient, id, title, facts, sentences, mark, cut, withDrawings, grips, due, notes);
    }
}
