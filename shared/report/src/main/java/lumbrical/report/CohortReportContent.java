package lumbrical.report;

import lumbrical.cohort.CohortResult;
import lumbrical.followup.FollowUpResult;

/**
 * What a report of groups is made from.
 *
 * @param result the results of the groups
 * @param followUp from which they come
 * @param smallestGroup no percentage was given of fewer
 * @param origin where it comes from
 */
public record CohortReportContent(
        CohortResult result, FollowUpResult followUp, int smallestGroup, ReportOrigin origin) {}
