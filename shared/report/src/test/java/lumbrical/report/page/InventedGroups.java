package lumbrical.report.page;

import java.io.StringWriter;
import java.util.List;
import java.util.Optional;
import lumbrical.catalogue.Catalogue;
import lumbrical.cohort.CohortAnalysis;
import lumbrical.cohort.CohortRequest;
import lumbrical.cohort.CohortResult;
import lumbrical.cohort.CommonMdcs;
import lumbrical.followup.FollowUpResult;
import lumbrical.report.CohortReport;
import lumbrical.report.CohortReportContent;
import lumbrical.report.ReportContent;
import lumbrical.report.ReportOrigin;

/** Reports of the groups of invented clinics. */
public final class InventedGroups {
    private InventedGroups() {}

    /** The demo clinic by condition, and two of its groups compared. */
    public static String demo() {
        CohortRequest request = CohortRequest.builder()
                .compare(Optional.of(new CohortRequest.Compare("sex", "female", "male")))
                .build();
        ReportContent demo = Demo.content();
        return write(
                demo.followUp(),
                CohortAnalysis.of(demo.followUp(), demo.choice(), request, Catalogue.builtIn()::find),
                demo.origin());
    }

    /** The demo clinic as if it had its first episodes alone, with percentages of two and more. */
    public static String demoOf(int episodes) {
        FollowUpResult all = Demo.content().followUp();
        FollowUpResult some = new FollowUpResult(
                all.asOf(),
                all.schedule(),
                all.episodes().subList(0, episodes),
                all.forms(),
                all.grips(),
                all.counts(),
                all.problems());
        CohortRequest request = CohortRequest.builder().smallestGroup(2).build();
        return write(
                some,
                CohortAnalysis.of(some, Demo.content().choice(), request, Catalogue.builtIn()::find),
                Demo.content().origin());
    }

    /** A clinic by condition. */
    public static String of(InventedClinic clinic) {
        FollowUpResult followUp = clinic.result();
        return write(
                followUp,
                CohortAnalysis.of(followUp, clinic.choice(), CohortRequest.BY_CONDITION, id -> Optional.empty()),
                new ReportOrigin("invented 1", List.of(), List.of(), "rows read 0"));
    }

    private static String write(FollowUpResult followUp, CohortResult result, ReportOrigin origin) {
        StringWriter out = new StringWriter();
        CohortReport.write(
                new CohortReportContent(
                        result,
                        CommonMdcs.of(followUp),
                        followUp.asOf(),
                        CohortRequest.BY_CONDITION.smallestGroup(),
                        origin),
                out);
        return out.toString();
    }
}
