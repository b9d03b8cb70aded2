package lumbrical.report.page;

import java.io.StringWriter;
import java.nio.file.Path;
import java.time.LocalDate;
import java.util.List;
import java.util.Optional;
import lumbrical.catalogue.Catalogue;
import lumbrical.clinic.ClinicAnalysis;
import lumbrical.clinic.ClinicFiles;
import lumbrical.clinic.ClinicResult;
import lumbrical.followup.FollowUpResult;
import lumbrical.report.PatientPages;
import lumbrical.report.ReportContent;
import lumbrical.report.ReportOrigin;
import lumbrical.scoring.ScoringOptions;
import lumbrical.tabular.Input;

/** The invented demo clinic, and pages of it. */
public final class Demo {
    private static final Path FOLDER = Path.of("..", "demo");
    private static final ReportContent CONTENT = read();

    private Demo() {}

    /** Read once. */
    public static ReportContent content() {
        return CONTENT;
    }

    /** Read afresh. */
    public static ReportContent read() {
        ClinicResult result = ClinicAnalysis.analyse(
                ClinicFiles.builder(List.of(input("responses.csv")), LocalDate.of(2026, 11, 20))
                        .episodes(input("episodes.csv"))
                        .build(),
                Catalogue.builtIn());
        return new ReportContent(
                result.followUp(),
                result.choice(),
                ScoringOptions.AS_DEFINED,
                new ReportOrigin(
                        "lumbrical", result.files(), List.of(), result.counts().reconciliation()));
    }

    private static Input input(String name) {
        return Input.parse(FOLDER.resolve(name).toString(), Optional.empty());
    }

    public static String clinic() {
        return write(CONTENT, List.of());
    }

    /** The clinic as if it had its first episodes alone. */
    public static String clinicOf(int episodes) {
        FollowUpResult all = CONTENT.followUp();
        FollowUpResult some = new FollowUpResult(
                all.asOf(),
                all.schedule(),
                all.episodes().subList(0, episodes),
                all.forms(),
                all.grips(),
                all.counts(),
                all.problems());
        return write(new ReportContent(some, CONTENT.choice(), CONTENT.scoring(), CONTENT.origin()), List.of());
    }

    public static String patients(String... patients) {
        return write(CONTENT, List.of(patients));
    }

    /** The page of these patients; of the clinic if none is named. */
    public static String write(ReportContent content, List<String> patients) {
        StringWriter out = new StringWriter();
        if (patients.isEmpty()) {
            PatientPages.writeClinic(content, out);
        } else {
            PatientPages.writePatients(content, patients, out);
        }
        return out.toString();
    }
}
