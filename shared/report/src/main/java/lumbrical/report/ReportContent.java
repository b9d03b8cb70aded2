package lumbrical.report;

import lumbrical.followup.FollowUpResult;
import lumbrical.scoring.ScoringOptions;
import lumbrical.threshold.ThresholdChoice;

/**
 * What a page is made from.
 *
 * @param followUp everything known of the patients over time
 * @param choice the thresholds used
 * @param scoring the rules used, for the arithmetic shown
 * @param origin where it comes from
 */
public record ReportContent(
        FollowUpResult followUp, ThresholdChoice choice, ScoringOptions scoring, ReportOrigin origin) {}
