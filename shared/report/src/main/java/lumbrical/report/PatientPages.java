package lumbrical.report;

import java.io.Writer;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Set;
import java.util.stream.Collectors;
import lumbrical.report.page.PageComposer;

/**
 * Patients' pages as one HTML file that needs nothing else: for a browser, and for print, a sheet to a patient. The same content gives
 * the same bytes.
 */
public final class PatientPages {
    private PatientPages() {}

    /** The patients that have an episode, in the order of the episodes. */
    public static Set<String> patients(ReportContent content) {
        return content.followUp().episodes().stream()
                .map(e -> e.episode().patient())
                .collect(Collectors.toCollection(LinkedHashSet::new));
    }

    /**
     * Writes the pages of these patients, in the order named; one named twice is written once.
     *
     * @throws IllegalArgumentException if none is named, or one has no episode
     * @throws java.io.UncheckedIOException if it cannot be written
     */
    public static void writePatients(ReportContent content, List<String> patients, Writer out) {
        Set<String> known = patients(content);
        if (patients.isEmpty()) {
            throw new IllegalArgumentException("No patient is named");
        }
        patients.stream().filter(p -> !known.contains(p)).findFirst().ifPresent(p -> {
            throw new IllegalArgumentException("Patient " + p + " has no episode");
        });
        composer(content).write(List.copyOf(new LinkedHashSet<>(patients)), false, out);
    }

    /**
     * Writes the page of a clinic: a list to search, and every patient's page.
     *
     * @throws java.io.UncheckedIOException if it cannot be written
     */
    public static void writeClinic(ReportContent content, Writer out) {
        composer(content).write(List.copyOf(patients(content)), true, out);
    }

    private static PageComposer composer(ReportContent content) {
        return new PageComposer(
                content.followUp(),
                content.choice(),
                content.scoring(),
                content.origin().told());
    }
}
