package lumbrical.report;

import java.time.LocalDate;
import lumbrical.cohort.CohortResult;
import lumbrical.cohort.CommonMdcs;

/**
 * What a report of groups is made from.
 *
 * @param result the results of the groups
 * @param mdcs the errors of measurement by which the changes were judged
 * @param asOf the day on which things are looked at
 * @param smallestGroup no percentage was given of fewer
 * @param origin where it comes from
 */
public record CohortReportContent(
        CohortResult result, CommonMdcs mdcs, LocalDate asOf, int smallestGroup, ReportOrigin origin) {}
