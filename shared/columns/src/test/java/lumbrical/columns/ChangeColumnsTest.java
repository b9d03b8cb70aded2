package lumbrical.columns;

import static lumbrical.columns.InventedClinic.all;
import static lumbrical.columns.InventedClinic.cells;
import static org.junit.jupiter.api.Assertions.assertEquals;

import java.util.List;
import java.util.OptionalInt;
import lumbrical.instrument.Metric;
import lumbrical.instrument.Provenance;
import lumbrical.instrument.ScaleId;
import lumbrical.instrument.Standing;
import lumbrical.instrument.Threshold;
import org.junit.jupiter.api.Test;

/**
 * Change rows of section 7 of the formats, cell by cell. Thresholds of the quickDASH: MCID 14 (sorensen2013), MDC at 90 % 12.85
 * (franchignoni2014). Its published MCIDs of hand, wrist and upper limb, one a study: 14; 15.91; 18.7, the median of the three of
 * jht2016 (15.8, 18.7, 25.8); 6.8 (ueclinic2020). That of aut2011 is from memory and those of the shoulder are of another population:
 * never counted.
 */
class ChangeColumnsTest {
    private static final String[] OWN =
            ChangeColumns.TABLE.headings().subList(20, 43).toArray(String[]::new);
    private static final String MDC =
            "12.85|90|franchignoni2014-mdc90 (upper-limb musculoskeletal conditions, physiotherapy;"
                    + " distribution, retest; n 30)|";
    private static final String MCID =
            "14|sorensen2013-mcid (atraumatic conditions of hand, wrist and forearm, not operated;"
                    + " anchor, mean change of the minimally improved (n 30); n 102)|";

    private static List<String> rows(InventedClinic clinic) {
        return clinic.analyse()
                .changes()
                .map(row -> cells(ChangeColumns.TABLE, row, OWN))
                .toList();
    }

    private static InventedClinic clinic() {
        return new InventedClinic().episode("P1", "invented").on("P1", -1);
    }

    /** 75 before; day 40 is two days from the target 42, day 43 one, so that one counts. */
    @Test
    void theSittingNearestTheTargetCountsAndTheOtherIsListed() {
        assertEquals(
                List.of(
                        // 75 - 50 = 25, at least 12.85 and 14, and each of the four published
                        "no|40|75|2026-03-01|50|-25|25|25|25|" + MDC + "yes|" + MCID
                                + "improved|important-improvement||no|yes|4|4|",
                        // ten times 2 = 25, with one unanswered from (21 / 11 - 1) x 25 = 22.727273 to 25 / 11,
                        // 31.818182
                        "yes|43|75|2026-03-01|25|-50|50|43.181818|52.272727|" + MDC + "yes|" + MCID
                                + "improved|important-improvement||no|yes|4|4|"),
                rows(clinic().quickdash(all(4, 11))
                        .on("P1", 40)
                        .quickdash(all(3, 11))
                        .on("P1", 43)
                        .quickdash(all(2, 10))));
    }

    /** 50 - 37.5 = 12.5: under 12.85 and under 14, over 6.8 alone; five 2s and five 3s, one item unanswered. */
    @Test
    void unansweredItemsCouldHaveTurnedTheVerdict() {
        assertEquals(
                List.of(
                        // with a 1: (26 / 11 - 1) x 25 = 34.090909, improvement 15.909091; with a 5: 30 / 11,
                        // 43.181818, 6.818182
                        "yes|42|50|2026-03-01|37.5|-12.5|12.5|6.818182|15.909091|" + MDC + "no|" + MCID
                                + "no|no-important-change||yes|yes|1|4|"),
                rows(clinic().quickdash(all(3, 11)).on("P1", 42).quickdash(2, 2, 2, 2, 2, 3, 3, 3, 3, 3)));
    }

    /** Seven points of eleven items: 7 / 11 x 25 = 15.909091, just under the 15.91 of franchignoni2014. */
    @Test
    void aThresholdThatIsAlmostReachedIsNot() {
        assertEquals(
                List.of("yes|42|50|2026-03-01|34.090909|-15.909091|15.909091|15.909091|15.909091|" + MDC + "yes|" + MCID
                        + "improved|important-improvement||no|yes|2|4|"),
                rows(clinic().quickdash(all(3, 11)).on("P1", 42).quickdash(2, 2, 2, 2, 2, 2, 2, 3, 3, 3, 3)));
    }

    @Test
    void aWorseningIsTheMirrorOfAnImprovement() {
        assertEquals(
                List.of("yes|42|25|2026-03-01|50|25|-25|-25|-25|" + MDC + "yes|" + MCID
                        + "worsened|important-worsening||no|yes|0|4|"),
                rows(clinic().quickdash(all(2, 11)).on("P1", 42).quickdash(all(3, 11))));
    }

    /** One 2 and ten 1s: 1 / 11 x 25 = 2.272727, less room than 14. */
    @Test
    void whoStartsNearTheGoodEndCannotReachTheMcid() {
        assertEquals(
                List.of("yes|42|2.272727|2026-03-01|0|-2.272727|2.272727|2.272727|2.272727|" + MDC + "no|" + MCID
                        + "no|no-important-change||no|no|0|4|"),
                rows(clinic().quickdash(2, 1, 1, 1, 1, 1, 1, 1, 1, 1, 1)
                        .on("P1", 42)
                        .quickdash(all(1, 11))));
    }

    @Test
    void withoutABaselineNothingIsAssessed() {
        assertEquals(
                List.of("yes|42|||50|||||" + MDC + "|" + MCID + "|not-assessable|no-baseline|||||"),
                rows(new InventedClinic().episode("P1", "invented").on("P1", 42).quickdash(all(3, 11))));
    }

    /** The score columns of a change row are those of the follow-up; a scale of the PRWE without MCID is not assessable. */
    @Test
    void theRowStartsWithTheFollowUpScore() {
        List<String> rows = clinic().prwe(40)
                .on("P1", 42)
                .prwe(20)
                .analyse()
                .changes()
                .map(row -> cells(
                        ChangeColumns.TABLE,
                        row,
                        "patient",
                        "completed_on",
                        "scale",
                        "score",
                        "improvement",
                        "mdc",
                        "mdc_level",
                        "mdc_source",
                        "beyond_error",
                        "mcid",
                        "reaches_mcid",
                        "verdict",
                        "verdict_reason"))
                .toList();
        assertEquals(
                List.of(
                        // pain 20 to 10, function 20 to 10, together 40 to 20
                        "P1|2026-04-13|pain|10|10||||unknown||unknown|not-assessable|no-mcid",
                        "P1|2026-04-13|function|10|10||||unknown||unknown|not-assessable|no-mcid",
                        "P1|2026-04-13|total|20|20||||unknown|14|improved|important-improvement|"),
                rows);
    }

    private static Threshold.Builder threshold(Standing standing) {
        return Threshold.builder(
                        "invented-mcid",
                        new ScaleId("total"),
                        Threshold.Kind.MCID,
                        Metric.ZERO_TO_HUNDRED,
                        new Provenance(standing, "invented"))
                .method("anchor");
    }

    @Test
    void aThresholdIsCitedWithEverythingThatLimitsIt() {
        assertEquals(
                "invented-mcid (wrist; anchor)",
                ChangeColumns.cite(threshold(Standing.PUBLISHED)
                        .population("wrist", Threshold.Group.HAND_WRIST)
                        .build()));
        assertEquals(
                "invented-mcid (shoulder; anchor; n 12; from-memory; other population)",
                ChangeColumns.cite(threshold(Standing.FROM_MEMORY)
                        .population("shoulder", Threshold.Group.SHOULDER)
                        .n(OptionalInt.of(12))
                        .build()));
    }
}
