package lumbrical.columns;

import static lumbrical.columns.InventedClinic.BASELINE;
import static lumbrical.columns.InventedClinic.INDEX;
import static lumbrical.columns.InventedClinic.cells;
import static lumbrical.columns.InventedClinic.instrument;
import static lumbrical.columns.InventedClinic.line;
import static org.junit.jupiter.api.Assertions.assertEquals;

import java.util.List;
import java.util.Optional;
import java.util.OptionalInt;
import java.util.function.Function;
import lumbrical.cohort.CohortAnalysis;
import lumbrical.cohort.CohortGroup;
import lumbrical.cohort.CohortRequest;
import lumbrical.cohort.CohortResult;
import lumbrical.cohort.OwnMcidRow;
import lumbrical.cohort.RowPlace;
import lumbrical.followup.Episode;
import lumbrical.instrument.Range;
import lumbrical.instrument.ScaleId;
import lumbrical.instrument.Side;
import lumbrical.output.OutputTable;
import lumbrical.statistics.AnchorMethod;
import lumbrical.statistics.Estimate;
import lumbrical.threshold.ThresholdChoice;
import org.junit.jupiter.api.Test;

/**
 * The tables of group results (section 12 of the formats), cell by cell. Numbers that are not plain arithmetic were calculated with
 * general-purpose statistics software (SciPy 1.17: quantiles of t, F and the normal distribution; NumPy 2.4: least squares) from the
 * formulas named beside them.
 *
 * <p>PRWE totals, before and at six weeks, and the rating of change at six weeks:
 *
 * <pre>
 *      group  before  after  improvement  rating
 * P1   A      60      24      36          3
 * P2   A      50      40      10          0
 * P3   A      40      20      20          1
 * P4   B      70      52      18          0
 * P5   B      40      54     -14         -2
 * P6   B      80      none
 * P7   B      60      none
 * P8   B      66      closed on day 10
 * </pre>
 *
 * <p>Ten days before the baseline P1, P2 and P3 had 56, 46 and 38. The MCID of the PRWE is 14 (sorensen2013); it has no MDC.
 */
class CohortColumnsTest {
    private static final CohortResult RESULT = result(CohortRequest.builder()
            .by(List.of("condition"))
            .compare(Optional.of(new CohortRequest.Compare("condition", "A", "B")))
            .anchor(Optional.of("grc"))
            .retestDays(OptionalInt.of(14))
            .smallestGroup(2)
            .resamples(50)
            .build());

    private static CohortResult result(CohortRequest request) {
        InventedClinic clinic = new InventedClinic();
        int[] before = {60, 50, 40, 70, 40, 80, 60, 66};
        for (int i = 0; i < 8; i++) {
            boolean closed = i == 7;
            String condition = i < 3 ? "A" : "B";
            clinic.episode(
                    "P" + (i + 1),
                    b -> closed
                            ? b.condition(condition)
                                    .closure(Optional.of(new Episode.Closure(INDEX.plusDays(10), "moved")))
                            : b.condition(condition));
        }
        int[] earlier = {56, 46, 38};
        for (int i = 0; i < 3; i++) {
            clinic.on("P" + (i + 1), -11).prwe(earlier[i]);
        }
        for (int i = 0; i < 8; i++) {
            clinic.on("P" + (i + 1), -1).prwe(before[i]);
        }
        int[] after = {24, 40, 20, 52, 54};
        int[] rating = {3, 0, 1, 0, -2};
        for (int i = 0; i < 5; i++) {
            clinic.on("P" + (i + 1), 42).prwe(after[i]).form("grc", "1=" + rating[i]);
        }
        return CohortAnalysis.of(clinic.analyse(), ThresholdChoice.DEFAULTS, request, InventedClinic.CATALOGUE::find);
    }

    private static <R> List<String> rows(OutputTable<R> table, List<R> rows, Function<R, RowPlace> at, String start) {
        return rows.stream()
                .filter(r -> at.apply(r).instrument().id().value().equals("prwe"))
                .map(r -> line(table, r))
                .filter(text -> text.startsWith(start))
                .map(text -> text.substring(start.length()))
                .toList();
    }

    private static List<String> groups(String start) {
        return rows(CohortGroupColumns.TABLE, RESULT.standing().groups(), r -> r.at(), start);
    }

    /**
     * Eight scores before: mean 466 / 8 = 58.25; SD 14.200101 with n - 1; sorted 40 40 50 60 60 66 70 80: quartiles of type 7 at the
     * positions 1.75 and 5.25: 47.5 and 67, median 60. Five after: 20 24 40 52 54: mean 38, SD 15.620499, quartiles 24 and 52.
     */
    @Test
    void scoresOfAGroupAreSummarised() {
        assertEquals(
                List.of("8|8|8|8|8||58.25|14.200101|60|47.5|67|40|80|0|0|||||||||"),
                groups("all|all|prwe|total|baseline|"));
        assertEquals(
                List.of("3|3|3|3|3||50|10|50|45|55|40|60|0|0|||||||||"), groups("condition|A|prwe|total|baseline|"));
    }

    /**
     * Improvements -14 10 18 20 36: mean 14, SD 18.275667; t with 4 degrees of freedom 2.776445, 14 -+ 2.776445 x 18.275667 / sqrt(5);
     * median 18; median of the 15 averages 15; effect size 14 / 13.038405 (SD of 60 50 40 70 40); 14 / 18.275667.
     */
    @Test
    void improvementsOfAGroupAreSummarised() {
        assertEquals(
                List.of(
                        "8|8|7|5|5|5|38|15.620499|40|24|52|20|54|0|0|14|18.275667|-8.692238|36.692238|t|18|15|1.073751|0.766046"),
                groups("all|all|prwe|total|6 weeks|"));
    }

    @Test
    void aPatientWithTwoEpisodesWidensTheInterval() {
        InventedClinic clinic = new InventedClinic();
        for (String patient : List.of("P1", "P2")) {
            clinic.episode(patient, "A")
                    .on(patient, -1)
                    .prwe(60)
                    .on(patient, 42)
                    .prwe(patient.equals("P1") ? 24 : 40);
        }
        clinic.episode("P1", b -> Episode.builder("P1", "E9", Side.LEFT)
                        .indexDate(INDEX)
                        .condition("A"))
                .on("P1", -1, Side.LEFT)
                .prwe(60)
                .on("P1", 42, Side.LEFT)
                .prwe(20);
        CohortResult result = CohortAnalysis.of(
                clinic.analyse(), ThresholdChoice.DEFAULTS, CohortRequest.BY_CONDITION, InventedClinic.CATALOGUE::find);
        assertEquals(
                List.of("3|2|3|clustered"),
                result.standing().groups().stream()
                        .filter(r -> line(CohortGroupColumns.TABLE, r).startsWith("all|all|prwe|total|6 weeks|"))
                        .map(r -> cells(CohortGroupColumns.TABLE, r, "episodes", "patients", "paired", "interval"))
                        .toList());
    }

    /**
     * Wilson's limits of 3 of 5, 1 of 5 and 2 of 3, in per cent. The two values counted from a fresh fracture are bound to that
     * condition.
     */
    @Test
    void respondersAreCountedByTheMcidUsedAndByEachPublished() {
        String published =
                " (atraumatic conditions of hand, wrist and forearm, not operated; anchor, mean change of the minimally"
                        + " improved (n 30); n 102)|";
        assertEquals(
                List.of(
                        // 36, 20 and 18 of five; -14 worsened by 14; of eight with a baseline 3, and 3 + 3 without a
                        // pair
                        "|each-episodes-own|yes|5|3|60|23.072428|88.237923|1||0|37.5|75",
                        "14|sorensen2013-mcid" + published + "no|5|3|60|23.072428|88.237923|1||0|37.5|75",
                        // 36 alone
                        "24|feitz2023-mcid (open repair of the triangular fibrocartilage; anchor)|no|5|1|20|3.622411|62.446537|0||0"
                                + "|12.5|50"),
                rows(ResponderColumns.TABLE, RESULT.responders(), r -> r.at(), "all|all|prwe|total|6 weeks|"));
        assertEquals(
                "14|sorensen2013-mcid" + published + "yes|3|2|66.666667|20.76596|93.850806|0||0|66.666667|66.666667",
                rows(ResponderColumns.TABLE, RESULT.responders(), r -> r.at(), "condition|A|prwe|total|6 weeks|")
                        .get(0));
    }

    /** From 10 nobody can improve by 14, from 14 just so. */
    @Test
    void whoCouldNotReachTheMcidIsCounted() {
        CohortResult result = CohortAnalysis.of(
                new InventedClinic()
                        .episode("P1", "A")
                        .on("P1", -1)
                        .prwe(10)
                        .on("P1", 42)
                        .prwe(4)
                        .episode("P2", "A")
                        .on("P2", -1)
                        .prwe(14)
                        .on("P2", 42)
                        .prwe(0)
                        .analyse(),
                ThresholdChoice.DEFAULTS,
                CohortRequest.BY_CONDITION,
                InventedClinic.CATALOGUE::find);
        assertEquals(
                List.of("14|2|1|0|1", "24|2|0|0|2"),
                result.responders().stream()
                        .filter(r -> line(ResponderColumns.TABLE, r).startsWith("condition|A|prwe|total|6 weeks|"))
                        .map(r -> cells(
                                ResponderColumns.TABLE, r, "mcid", "paired", "improved", "worsened", "could_not_reach"))
                        .toList());
    }

    @Test
    void noPercentageOfAGroupThatIsTooSmall() {
        CohortResult small = result(CohortRequest.BY_CONDITION); // fewer than five
        assertEquals(
                "3|2||||0||0||",
                cells(
                        ResponderColumns.TABLE,
                        small.responders().stream()
                                .filter(r -> r.used()
                                        && r.at().group().label().equals("A")
                                        && r.at().scale().id().value().equals("total"))
                                .findFirst()
                                .orElseThrow(),
                        "paired",
                        "improved",
                        "improved_percent",
                        "low",
                        "high",
                        "worsened",
                        "beyond_error",
                        "could_not_reach",
                        "if_missing_not_improved_percent",
                        "if_missing_improved_percent"));
        assertEquals(List.of(), rows(EcdfColumns.TABLE, small.ecdf(), r -> r.at(), "condition|A|prwe|total|6 weeks|"));
    }

    @Test
    void theDistributionHasARowForEachImprovement() {
        assertEquals(
                List.of("-14|5|5|100", "10|4|5|80", "18|3|5|60", "20|2|5|40", "36|1|5|20"),
                rows(EcdfColumns.TABLE, RESULT.ecdf(), r -> r.at(), "all|all|prwe|total|6 weeks|"));
    }

    /**
     * Seen again: 60 50 40 70 40, mean 52, SD 13.038405. Not seen: 80 and 60, mean 70, SD 14.142136; who was closed before is neither.
     * Pooled SD: sqrt((4 x 170 + 200) / 5) = 13.266499; 18 / 13.266499.
     */
    @Test
    void thoseNotSeenAgainAreSetAgainstTheOthers() {
        assertEquals(
                List.of("5|52|13.038405|2|70|14.142136|1.356801"),
                rows(
                        AttritionColumns.TABLE,
                        RESULT.standing().attrition(),
                        r -> r.at(),
                        "all|all|prwe|total|6 weeks|"));
    }

    /** Of the instruments only the PRWE is expected: the rating was no form of a baseline. */
    @Test
    void theFlowOfEachGroup() {
        assertEquals(
                List.of(
                        "all|all|prwe|6 weeks|8|0|1|7|5|5|5|0|0|0|0|0|0",
                        "condition|A|prwe|6 weeks|3|0|0|3|3|3|3|0|0|0|0|0|0",
                        "condition|B|prwe|6 weeks|5|0|1|4|2|2|2|0|0|0|0|0|0"),
                RESULT.standing().flow().stream()
                        .map(r -> line(FlowColumns.TABLE, r))
                        .filter(text -> text.contains("|prwe|6 weeks|"))
                        .toList());
    }

    /**
     * A: 36 10 20, mean 22; B: 18 -14, mean 2. Welch: 20 -+ t(1.461423) x sqrt(172 / 3 + 512 / 2). Adjusted: least squares of the
     * improvement on group and baseline, t with 2 degrees of freedom. Of the six pairs A improved more in five; their differences are -8
     * 2 18 24 34 50, median 21. Improved by 14: 2 of 3 and 1 of 2; Newcombe's limits of 16.666667.
     */
    @Test
    void twoGroupsAreCompared() {
        assertEquals(
                List.of(
                        "3|2|20|-90.53005|130.53005|24.923077|-17.767773|67.613927|t|0.833333|21|14|2|1|16.666667|-44.578123"
                                + "|65.482923"),
                rows(CompareColumns.TABLE, RESULT.compare(), r -> r.at(), "all|all|prwe|total|6 weeks|"));
    }

    @Test
    void ofSmallGroupsTheDifferenceOfPercentagesIsBlank() {
        CohortResult small = result(CohortRequest.builder()
                .compare(Optional.of(new CohortRequest.Compare("condition", "A", "B")))
                .build());
        assertEquals(
                List.of("2|1|||", "||||", "||||"),
                small.compare().stream()
                        .filter(r -> r.at().group().equals(CohortGroup.ALL))
                        .sorted((a, b) -> b.at().scale()
                                .id()
                                .value()
                                .compareTo(a.at().scale().id().value()))
                        .filter(r -> r.at().instrument().id().value().equals("prwe"))
                        .map(r -> cells(
                                CompareColumns.TABLE,
                                r,
                                "improved_a",
                                "improved_b",
                                "improved_difference",
                                "improved_low",
                                "improved_high"))
                        .toList(),
                "total, pain, function; only the total has an MCID");
    }

    /**
     * First step up: P3, 20. Unchanged: 10 and 18, mean 14. Improved are P1 and P3 (36, 20): every one of them improved more than every
     * other, so the cut-off lies half way between 18 and 20 and the area is 1. 95 % limit: 14 + 1.644854 x 5.656854. Spearman's
     * correlation of 36 10 20 18 -14 with 3 0 1 0 -2, ties at their mean rank: 0.974679.
     */
    @Test
    void ownMcidsAreReadFromTheRating() {
        List<String> rows = RESULT.measurement().ownMcid().stream()
                .filter(r -> line(OwnMcidColumns.TABLE, r).startsWith("all|all|prwe|total|6 weeks|"))
                .map(r -> cells(
                        OwnMcidColumns.TABLE, r, "method", "estimate", "n", "improved", "anchor_correlation", "auc"))
                .toList();
        String cases = "|5|2|0.974679|1";
        assertEquals(
                List.of(
                        "mean-change|20" + cases,
                        "mean-difference|6" + cases,
                        "roc-youden|19" + cases,
                        "roc-corner|19" + cases,
                        "predictive|" + cases,
                        "predictive-adjusted|" + cases,
                        "limit-95|23.304697" + cases),
                rows);
    }

    /** The limits come from resamples, so these are given: invented. */
    @Test
    void theLimitsOfAnOwnMcidAndItsWarningsAreWritten() {
        RowPlace at = new RowPlace(
                CohortGroup.ALL,
                instrument("prwe"),
                instrument("prwe").requireScale(new ScaleId("total")),
                Optional.of(BASELINE));
        OwnMcidRow row = new OwnMcidRow(
                at,
                AnchorMethod.MEAN_CHANGE,
                Estimate.of(20.0),
                Estimate.of(new Range(12.5, 27)),
                new OwnMcidRow.Sample(
                        40, 18, Estimate.none(Estimate.Reason.NO_SPREAD), Estimate.none(Estimate.Reason.NO_VALUES)),
                List.of("fewer than 50", "no correlation"));
        assertEquals(
                "all|all|prwe|total|baseline|mean-change|20|12.5|27|40|18|||fewer than 50; no correlation",
                line(OwnMcidColumns.TABLE, row));
    }

    /**
     * Pain items before: 6 6 6 6 6, 5.., 4.., 7.., 4.., 8.., 6.., and 7 7 7 6 6. Alpha = 5 / 4 x (1 - sum of the items' variances /
     * variance of the sum) = 0.996281, Feldt's limits from F(7, 28).
     */
    @Test
    void theConsistencyOfTheItemsIsTold() {
        List<String> rows = rows(
                ReliabilityColumns.TABLE,
                RESULT.measurement().reliability(),
                r -> r.at(),
                "all|all|prwe|pain|baseline|");
        assertEquals(
                "alpha|0.996281|0.989653|0.99915|8|Cronbach's alpha of complete forms; limits after Feldt",
                rows.get(0));
        assertEquals("alpha-without:1|0.99478|||8|Cronbach's alpha of the other items, complete forms", rows.get(1));
        assertEquals(
                "item-rest:1|0.992906|||8|Pearson's correlation with the sum of the other items, complete forms",
                rows.get(6));
    }

    /**
     * Pairs 56 60, 46 50, 38 40 before treatment, ten days apart: mean squares 180.666667 (patients), 16.666667 (sittings), 0.666667
     * (rest). ICC(2,1) = 180 / (180.666667 + 0.666667 + 2 / 3 x 16) = 0.9375. SEM of agreement sqrt(16 / 3 + 2 / 3) = sqrt(6), of
     * consistency sqrt(2 / 3). MDC95 = 1.959964 x sqrt(2) x sqrt(6). Differences 4 4 2: mean 3.333333, SD 1.154701.
     */
    @Test
    void theAgreementOfTwoSittingsIsToldOfNoVisit() {
        List<String> rows = RESULT.measurement().reliability().stream()
                .filter(r -> line(ReliabilityColumns.TABLE, r).startsWith("all|all|prwe|total||"))
                .map(r -> cells(ReliabilityColumns.TABLE, r, "quantity", "value", "low", "high", "n"))
                .toList();
        assertEquals(
                List.of(
                        "icc-2-1|0.9375|-0.008354|0.998284|3",
                        "sem-agreement|2.44949|||3",
                        "sem-consistency|0.816497|||3",
                        "mdc90|5.69794|||3",
                        "mdc95|6.789514|||3",
                        "limits-of-agreement|3.333333|1.070162|5.596505|3"),
                rows);
    }
}
