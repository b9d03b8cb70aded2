package lumbrical.report.page;

import java.util.List;

/**
 * What a page shows of one patient.
 *
 * @param patient pseudonymous id
 * @param sheetMark what follows the patient's id above the first sheet
 * @param setting class of the type that the print needs
 * @param episodes the episodes
 */
record PatientView(String patient, String sheetMark, String setting, List<EpisodeView> episodes) {
    PatientView {
        episodes = List.copyOf(episodes);
    }
}
