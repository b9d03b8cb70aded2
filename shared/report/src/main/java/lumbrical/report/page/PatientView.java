package lumbrical.report.page;

import java.util.List;

/**
 * What a page shows of one patient.
 *
 * @param patient pseudonymous id
 * @param sheetMark what follows the patient's id above the first sheet
 * @param dense whether the print needs the smaller type
 * @param episodes the episodes
 */
record PatientView(String patient, String sheetMark, boolean dense, List<EpisodeView> episodes) {
    PatientView {
        episodes = List.copyOf(episodes);
    }
}
