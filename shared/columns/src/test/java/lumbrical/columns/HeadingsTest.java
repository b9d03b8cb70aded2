package lumbrical.columns;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.util.List;
import java.util.stream.Stream;
import lumbrical.output.OutputColumn;
import lumbrical.output.OutputTable;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.MethodSource;

/** The headings that users and checks rely on: the lists of the formats, copied from their text. */
class HeadingsTest {
    private static final String SCORES =
            "patient,episode,side,completed_on,visit,instrument,scale,score,outcome,reason,items,"
                    + "answered,lowest,highest,better,definition,standard_error,ci_low,ci_high,standing";
    private static final String GROUP_KEYS = "group_by,group,instrument,scale,visit,";

    private static void assertHeadings(String expected, OutputTable<?> table) {
        assertEquals(List.of(expected.split(",")), table.headings());
    }

    @Test
    void scoreRowsAreThoseOfSection5() {
        assertHeadings(SCORES, ScoreColumns.TABLE);
    }

    @Test
    void problemsAreThoseOfSection6() {
        assertHeadings("file,row,column,value,problem,advice", ProblemColumns.TABLE);
    }

    @Test
    void changeRowsAreThoseOfSection7() {
        assertHeadings(
                SCORES
                        + ",used,day,baseline,baseline_on,follow_up,change,improvement,lowest_improvement,highest_improvement,mdc,"
                        + "mdc_level,mdc_source,beyond_error,mcid,mcid_source,reaches_mcid,verdict,verdict_reason,"
                        + "gaps_could_change_verdict,could_reach,mcid_met,mcid_published,acceptable_state",
                ChangeColumns.TABLE);
    }

    @Test
    void gripRowsAreThoseOfSection10() {
        assertHeadings(
                "patient,episode,side,completed_on,visit,grip,difficulty,items,answered,from", GripColumns.TABLE);
    }

    @Test
    void groupResultsAreThoseOfSection12() {
        assertHeadings(
                GROUP_KEYS
                        + "episodes,patients,expected,received,scored,paired,mean,sd,median,q1,q3,lowest,highest,best_possible,"
                        + "worst_possible,improvement_mean,improvement_sd,improvement_low,improvement_high,interval,"
                        + "improvement_median,hodges_lehmann,effect_size,srm",
                CohortGroupColumns.TABLE);
        assertHeadings(
                GROUP_KEYS
                        + "mcid,mcid_source,mcid_used,paired,improved,improved_percent,low,high,worsened,beyond_error,"
                        + "could_not_reach,if_missing_not_improved_percent,if_missing_improved_percent",
                ResponderColumns.TABLE);
        assertHeadings(GROUP_KEYS + "improvement,at_least,paired,percent", EcdfColumns.TABLE);
        assertHeadings(
                GROUP_KEYS + "with_follow_up,mean_with,sd_with,without,mean_without,sd_without,standardised_difference",
                AttritionColumns.TABLE);
        assertHeadings(
                GROUP_KEYS
                        + "n_a,n_b,difference,low,high,adjusted_difference,adjusted_low,adjusted_high,adjusted_interval,"
                        + "probability_a_better,hodges_lehmann_shift,mcid,improved_a,improved_b,improved_difference,"
                        + "improved_low,improved_high",
                CompareColumns.TABLE);
        assertHeadings(
                GROUP_KEYS + "method,estimate,low,high,n,improved,anchor_correlation,auc,warning",
                OwnMcidColumns.TABLE);
        assertHeadings(GROUP_KEYS + "quantity,value,low,high,n,method", ReliabilityColumns.TABLE);
    }

    /** The reasons are those of section 5, in the order of that list. */
    @Test
    void theFlowNamesEachReason() {
        List<String> flow = FlowColumns.TABLE.headings();
        assertEquals(
                List.of(("group_by,group,instrument,visit,episodes,not_yet,closed,expected,received,scorable,paired")
                        .split(",")),
                flow.subList(0, 11));
        for (String reason : List.of(
                "too_few_answered", "response_not_allowed", "no_answers", "part_not_scored", "rule_not_published")) {
            assertTrue(flow.contains("not_scored_" + reason), reason);
            assertTrue(FollowUpColumns.TABLE.headings().contains("not_scored_" + reason), reason);
        }
    }

    @Test
    void theCallListIsThatOfSection14() {
        assertHeadings("patient,episode,side,visit,opens,target,closes,state,forms,days_left", DueColumns.TABLE);
    }

    static Stream<OutputTable<?>> tables() {
        return Stream.of(
                ScoreColumns.TABLE,
                ChangeColumns.TABLE,
                GripColumns.TABLE,
                ProblemColumns.TABLE,
                FollowUpColumns.TABLE,
                DueColumns.TABLE,
                BlankItemColumns.TABLE,
                CohortGroupColumns.TABLE,
                ResponderColumns.TABLE,
                EcdfColumns.TABLE,
                AttritionColumns.TABLE,
                FlowColumns.TABLE,
                CompareColumns.TABLE,
                OwnMcidColumns.TABLE,
                ReliabilityColumns.TABLE);
    }

    /** The data dictionary is made of these meanings, and programs find a column by its heading. */
    @ParameterizedTest
    @MethodSource("tables")
    void everyColumnHasAMeaningAndAHeadingOfItsOwn(OutputTable<?> table) {
        assertEquals(
                table.columns().size(), table.headings().stream().distinct().count());
        for (OutputColumn<?> column : table.columns()) {
            assertFalse(column.meaning().isBlank(), column.name());
            assertTrue(column.name().matches("[a-z][a-z0-9_]*"), column.name());
        }
    }

    @Test
    void everySheetHasANameOfItsOwn() {
        assertEquals(15, tables().map(OutputTable::name).distinct().count());
    }
}
