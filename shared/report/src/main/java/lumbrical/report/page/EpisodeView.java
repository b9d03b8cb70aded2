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
     * The six grips at one sitting.
     *
     * @param name visit and day, and whether it is of the person rather than of the two hands
     * @param latest whether it is of the latest sitting, which the sheet shows
     * @param values by grip, treated and other hand apart; a dash where none was asked
     */
    record GripLine(String name, boolean latest, List<String> values) {
        GripLine {
            values = List.copyOf(values);
        }
    }

    /** Whether it has no scale, so that a sheet has room for the grips of all visits. */
    boolean scaleless() {
        return scales.isEmpty();
    }

    /** Grips of sittings before the latest. */
    List<GripLine> earlierGrips() {
        return grips.stream().filter(g -> !g.latest()).toList();
    }

    /** Grips of the latest sitting. */
    List<GripLine> latestGrips() {
        return grips.stream().filter(GripLine::latest).toList();
    }

    /** The same with its drawings and cuts as the sheet has room. */
    EpisodeView laidOut(String mark, List<Part> cut, List<ScaleView> withDrawings) {
        return new EpisodeView(
                anchor, patient, id, title, facts, sentences, mark, cut, withDrawings, grips, due, notes);
    }
}
