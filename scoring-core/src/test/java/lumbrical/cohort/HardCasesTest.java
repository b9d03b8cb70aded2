package lumbrical.cohort;

import static lumbrical.scoring.ExampleInstrument.PUBLISHED;
import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.time.LocalDate;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalInt;
import java.util.stream.Collectors;
import lumbrical.condition.Condition;
import lumbrical.condition.ConditionVocabulary;
import lumbrical.followup.Episode;
import lumbrical.followup.Visit;
import lumbrical.instrument.ChangeRule;
import lumbrical.instrument.Instrument;
import lumbrical.instrument.InstrumentId;
import lumbrical.instrument.ItemRule;
import lumbrical.instrument.Range;
import lumbrical.instrument.Side;
import lumbrical.instrument.Threshold;
import lumbrical.scoring.ExampleInstrument;
import lumbrical.scoring.Reason;
import lumbrical.statistics.AnchorMethod;
import lumbrical.statistics.Estimate;
import lumbrical.threshold.ExampleThreshold;
import org.junit.jupiter.api.Test;

/** What is small, odd or missing in a clinic is said. Clinics and scores are invented; expected values are worked by hand. */
class HardCasesTest {
    private static final ConditionVocabulary VOCABULARY = ConditionVocabulary.of(List.of(
            new Condition("ct", "Carpal tunnel", List.of("CTS"), PUBLISHED, List.of()),
            new Condition("td", "Trigger digit", List.of(), PUBLISHED, List.of())));

    private static CohortRequest by(String... columns) {
        return CohortRequest.builder().by(List.of(columns)).build();
    }

    private static CohortClinic pairs(double... afterSixty) {
        CohortClinic clinic = new CohortClinic();
        for (int i = 0; i < afterSixty.length; i++) {
            clinic.pair("P" + i, 60 + i, afterSixty[i]);
        }
        return clinic;
    }

    private static GroupRow.Improvement improvement(CohortClinic clinic) {
        return clinic.all("month3").improvement().orElseThrow();
    }

    private static Estimate.Reason why(Estimate<?> estimate) {
        return estimate.whyNot().orElseThrow();
    }

    private static String methods(CohortResult result) {
        return String.join("\n", result.methods());
    }

    @Test
    void ofNobodyOneAndTwoPairs() {
        CohortClinic nobody = new CohortClinic().episode("P1", "E1").line("P1", "E1", "month3", 40);
        assertEquals(0, improvement(nobody).paired());
        assertEquals(Estimate.Reason.NO_VALUES, why(improvement(nobody).values()));
        assertEquals(Estimate.Reason.NO_VALUES, why(improvement(nobody).mean()));

        GroupRow.Improvement one = improvement(pairs(40));
        assertEquals(20, one.values().optional().orElseThrow().quantiles().mean());
        assertEquals(Estimate.Reason.ONE_VALUE, why(one.mean()));
        assertEquals(Estimate.Reason.ONE_VALUE, why(one.effectSize()));
        assertEquals(Estimate.Reason.ONE_VALUE, why(one.srm()));
        assertTrue(methods(pairs(40).analyse())
                .contains(
                        "groups, interval of the mean improvement: there is only one, and one has no spread (1 row: all,"
                                + " line total, month3)"));

        // Improvements 20 and 31: mean 25.5, SD 7.7782; t(1; 0.975) = 12.7062, so 25.5 - 12.7062 * 5.5 = -44.3841
        GroupRow.Improvement two = improvement(pairs(40, 30));
        assertEquals(25.5, two.values().optional().orElseThrow().quantiles().mean());
        assertEquals(-44.3841, two.mean().optional().orElseThrow().interval().low(), 1e-4);
    }

    @Test
    void withoutSpread() {
        CohortClinic alike =
                new CohortClinic().pair("P1", 60, 40).pair("P2", 60, 40).pair("P3", 60, 40);
        GroupRow.Improvement improvement = improvement(alike);
        assertEquals(Estimate.Reason.NO_SPREAD, why(improvement.mean()));
        assertEquals(Estimate.Reason.NO_SPREAD, why(improvement.effectSize()));
        assertEquals(20, improvement.hodgesLehmann().optional().orElseThrow());
    }

    @Test
    void onePatientWithManyEpisodesHasNoInterval() {
        CohortClinic clinic = new CohortClinic();
        for (int i = 1; i <= 6; i++) {
            clinic.episode("P1", "E" + i)
                    .line("P1", "E" + i, "baseline", 60 + i)
                    .line("P1", "E" + i, "month3", 40 - i * i);
        }
        GroupRow row = clinic.all("month3");
        assertEquals(1, row.size().patients());
        assertEquals(6, row.size().episodes());
        assertEquals(Estimate.Reason.ONE_PATIENT, why(improvementOf(row).mean()));
        assertTrue(improvementOf(row).clustered());
        CohortResult each = clinic.analyse(
                CohortRequest.builder().by(List.of()).oneEpisodeEach(true).build());
        assertEquals(1, CohortClinic.groupRow(each, "all", "month3").size().episodes());
        assertTrue(methods(each).contains("Of each patient only the episode with the earliest index date"));
    }

    private static GroupRow.Improvement improvementOf(GroupRow row) {
        return row.improvement().orElseThrow();
    }

    @Test
    void theEarliestEpisodeOfAPatientStandsForAll() {
        CohortClinic clinic = new CohortClinic();
        for (int i = 1; i <= 3; i++) {
            int day = i == 2 ? -2 : 0;
            clinic.episode("P1", "E" + i, Side.RIGHT, b -> b.indexDate(CohortClinic.INDEX.plusDays(day)))
                    .line("P1", "E" + i, "month3", 10 * i);
        }
        clinic.episode("P1", "E0", Side.RIGHT, b -> b.indexDate(Optional.empty()));
        GroupRow row = CohortClinic.groupRow(
                clinic.analyse(CohortRequest.builder().oneEpisodeEach(true).build()), "all", "month3");
        assertEquals(20, row.scores().optional().orElseThrow().quantiles().mean());
    }

    @Test
    void everyoneImproved() {
        CohortClinic clinic = new CohortClinic();
        for (int i = 0; i < 6; i++) {
            clinic.pair("P" + i, 60 + i, 10 + 3 * i).rating("P" + i, "E1", "month3", 1 + i % 2);
        }
        List<OwnMcidRow> rows = own(clinic);
        assertEquals(7, rows.size());
        OwnMcidRow youden = of(rows, AnchorMethod.ROC_YOUDEN);
        assertEquals(Estimate.Reason.EVERYONE_IMPROVED, why(youden.estimate()));
        assertTrue(youden.warnings()
                .containsAll(List.of(
                        "not estimable: everyone improved by the anchor",
                        "fewer than 50",
                        "share improved outside 0.3 to 0.7")));
        assertEquals(6, youden.sample().improved());
        assertEquals(
                Estimate.Reason.NOBODY_UNCHANGED,
                why(of(rows, AnchorMethod.MEAN_DIFFERENCE).estimate()));
    }

    private static List<OwnMcidRow> own(CohortClinic clinic) {
        return clinic.analyse(CohortRequest.builder()
                        .by(List.of())
                        .anchor(Optional.of("rating"))
                        .resamples(50)
                        .build())
                .measurement()
                .ownMcid();
    }

    private static OwnMcidRow of(List<OwnMcidRow> rows, AnchorMethod method) {
        return rows.stream().filter(r -> r.method() == method).findFirst().orElseThrow();
    }

    @Test
    void anAnchorThatPointsTheWrongWayGivesNoThreshold() {
        CohortClinic clinic = new CohortClinic();
        for (int i = 0; i < 8; i++) {
            clinic.pair("P" + i, 60, 50 - 5 * i).rating("P" + i, "E1", "month3", i < 4 ? 1 : i % 2 - 1);
        }
        OwnMcidRow row = of(own(clinic), AnchorMethod.PREDICTIVE);
        assertEquals(Optional.empty(), row.estimate().optional());
        assertTrue(row.warnings().contains("correlation with the anchor under 0.30"));
        assertTrue(
                row.warnings().get(0).startsWith("not estimable: "),
                row.warnings().toString());
        OwnMcidRow youden = of(own(clinic), AnchorMethod.ROC_YOUDEN);
        assertEquals(Estimate.Reason.ANCHOR_REVERSED, why(youden.estimate()));
    }

    /** Those improved by the anchor improved by 30 to 45, the others by 0 to 15: a threshold parts them, and no line is steep enough. */
    @Test
    void separationGivesAThresholdAndNoLogisticLine() {
        CohortClinic clinic = new CohortClinic();
        for (int i = 0; i < 8; i++) {
            clinic.pair("P" + i, 60, i < 4 ? 30 - 5 * i : 60 - 5 * (i - 4))
                    .rating("P" + i, "E1", "month3", i < 4 ? 1 : 0);
        }
        List<OwnMcidRow> rows = own(clinic);
        for (AnchorMethod method : List.of(AnchorMethod.PREDICTIVE, AnchorMethod.PREDICTIVE_ADJUSTED)) {
            OwnMcidRow row = of(rows, method);
            assertEquals(Estimate.Reason.PERFECT_SEPARATION, why(row.estimate()));
            assertEquals(Optional.empty(), row.interval().optional());
            assertEquals(
                    "not estimable: a threshold separates the improved from the others without overlap",
                    row.warnings().get(0));
        }
        assertEquals(
                22.5, of(rows, AnchorMethod.ROC_YOUDEN).estimate().optional().orElseThrow());
        assertEquals(
                37.5, of(rows, AnchorMethod.MEAN_CHANGE).estimate().optional().orElseThrow());
    }

    @Test
    void thresholdsThatAreAsGoodAreNamed() {
        CohortClinic clinic = new CohortClinic();
        double[] after = {50, 45, 40, 35, 30, 25};
        int[] ratings = {0, 1, 0, 1, 0, 1};
        for (int i = 0; i < after.length; i++) {
            clinic.pair("P" + i, 60, after[i]).rating("P" + i, "E1", "month3", ratings[i]);
        }
        // Above 12.5: 3 of 3 and 1 of 3 rightly; above 22.5: 2 and 2; above 32.5: 1 and 3: each 4/3 - 1.
        OwnMcidRow youden = of(own(clinic), AnchorMethod.ROC_YOUDEN);
        assertEquals(12.5, youden.estimate().optional().orElseThrow());
        assertTrue(youden.warnings().contains("as good: 12.5, 22.5, 32.5; the smallest is given"));
    }

    @Test
    void ofAnAnchorInNobodysSittingThereAreNoRows() {
        assertEquals(List.of(), own(pairs(1, 2, 3)));
        CohortClinic some = pairs(1, 2, 3).rating("P0", "E1", "baseline", 1).rating("P1", "E1", "month3", 1);
        OwnMcidRow row = own(some).get(0);
        assertEquals(1, row.sample().n());
        assertTrue(row.warnings().contains("no correlation: there is only one, and one has no spread"));
        assertTrue(row.warnings().contains("no interval: all values are of one patient"));
    }

    @Test
    void aRatingCountsInStepsAndOfTheSameSittingOnly() {
        Instrument half = rating("half", -1, -0.5, 0, 0.5, 1);
        CohortClinic clinic = pairs(40, 30, 20, 10).knows(half);
        clinic.form("P0", "E1", 91, half, "1=0.5");
        clinic.form("P1", "E1", 91, half, "1=-1");
        clinic.form("P2", "E1", 90, half, "1=1");
        clinic.form("P3", "E1", 91, half, "1=0");
        CohortResult result = clinic.analyse(CohortRequest.builder()
                .by(List.of())
                .anchor(Optional.of("half"))
                .resamples(10)
                .build());
        OwnMcidRow row = of(result.measurement().ownMcid(), AnchorMethod.MEAN_DIFFERENCE);
        assertEquals(3, row.sample().n());
        assertEquals(1, row.sample().improved());
        // Improvement 20 at the first step, 63 - 10 = 53 unchanged.
        assertEquals(-33, row.estimate().optional().orElseThrow());
    }

    private static Instrument rating(String id, double... codes) {
        return ExampleInstrument.called(id)
                .items(1, ExampleInstrument.codes(PUBLISHED, codes))
                .scale("total", new ItemRule.Sum(1, PUBLISHED), ExampleInstrument.noneMissing(), new Range(-1, 1))
                .higherIsBetter()
                .change(ChangeRule.Kind.NONE)
                .build();
    }

    @Test
    void aSmallGroupHasCountsAndNoPercentages() {
        CohortClinic clinic = pairs(20, 30, 55, 80);
        CohortResult result = clinic.analyse();
        ResponderRow row = result.responders().get(0);
        assertEquals(2, row.improved().count());
        assertEquals(4, row.improved().of());
        assertEquals(Optional.empty(), row.improved().percent());
        assertEquals(Optional.empty(), row.improved().interval95());
        assertEquals(1, row.worsened());
        assertEquals(OptionalInt.of(3), row.beyondError());
        assertEquals(List.of(), result.ecdf());

        CohortResult asked = clinic.analyse(
                CohortRequest.builder().by(List.of()).smallestGroup(4).build());
        assertEquals(Optional.of(50.0), asked.responders().get(0).improved().percent());
        assertEquals(4, asked.ecdf().size());
        assertEquals(-17, asked.ecdf().get(0).improvement());
        assertTrue(methods(asked).contains("No percentage is given of fewer than 4 episodes"));
    }

    @Test
    void aMixedGroupIsHeldAgainstEachEpisodesOwnMcid() {
        Instrument line = CohortClinic.line()
                .defaultsFor("ct", "m20", "", "")
                .threshold(ExampleThreshold.called("m30", Threshold.Kind.MCID)
                        .value(30)
                        .study("thirty")
                        .boundTo("td")
                        .build())
                .build();
        CohortClinic clinic = new CohortClinic(line).vocabulary(VOCABULARY);
        String[] conditions = {"cts", "CTS", "ct", "trigger digit", "Something else", "something  ELSE", ""};
        for (int i = 0; i < conditions.length; i++) {
            String condition = conditions[i];
            clinic.episode("P" + i, "E1", Side.RIGHT, b -> b.condition(condition))
                    .line("P" + i, "E1", "baseline", 60)
                    .line("P" + i, "E1", "month3", 45);
        }
        CohortResult result = clinic.analyse(by("condition"));
        assertEquals(
                List.of("all", "Carpal tunnel", "Something else", "Trigger digit", "(blank)"),
                result.groups().stream().map(g -> g.group().label()).toList());
        Map<String, List<String>> rows = result.responders().stream()
                .filter(r -> r.at().visit().orElseThrow().name().equals("month3"))
                .collect(Collectors.groupingBy(
                        r -> r.at().group().label(),
                        Collectors.mapping(
                                r -> r.mcid().threshold().map(Threshold::id).orElse("own") + (r.used() ? " used " : " ")
                                        + r.improved().count() + "/"
                                        + r.improved().of(),
                                Collectors.toList())));
        // 15 better: enough for the general 10, not for carpal tunnel's 20.
        assertEquals(List.of("own used 4/7", "m10 7/7", "m20 0/7"), rows.get("all"));
        assertEquals(List.of("m20 used 0/3", "m10 3/3"), rows.get("Carpal tunnel"));
        assertEquals(List.of("m10 used 1/1", "m20 0/1", "m30 0/1"), rows.get("Trigger digit"));
        assertEquals(List.of("m10 used 2/2", "m20 0/2"), rows.get("Something else"));
        assertTrue(methods(result)
                .contains("MCID 20 (m20; invented; invented; published, Nobody, Journal of Examples, 1999"
                        + " (p. 7). DOI 10.0/ex) for Carpal tunnel"));
    }

    @Test
    void withoutAnMcidThereAreNoRespondersAndItIsSaid() {
        Instrument line = ExampleInstrument.called("line")
                .items(1, ExampleInstrument.mark(0, 100))
                .scale("total", new ItemRule.Sum(1, PUBLISHED), ExampleInstrument.noneMissing(), new Range(0, 100))
                .build();
        CohortClinic clinic = new CohortClinic(line).pair("P1", 60, 40).pair("P2", 60, 20);
        CohortResult result = clinic.analyse(by());
        assertEquals(List.of(), result.responders());
        assertTrue(methods(result).contains("line total has no MCID that could be used"));
    }

    @Test
    void comparesWithinEachGroupThatHasBoth() {
        CohortClinic clinic = new CohortClinic().vocabulary(VOCABULARY);
        double[] after = {50, 45, 40, 35, 30, 25};
        for (int i = 0; i < after.length; i++) {
            String sex = i % 2 == 0 ? "female" : "male";
            String condition = i < 5 ? "ct" : "td";
            clinic.episode("P" + i, "E1", Side.RIGHT, b -> b.sex(Optional.of(sex))
                            .condition(condition))
                    .line("P" + i, "E1", "baseline", 60 + i % 3)
                    .line("P" + i, "E1", "month3", after[i]);
        }
        CohortResult result = clinic.analyse(CohortRequest.builder()
                .compare(Optional.of(new CohortRequest.Compare("SEX", "Female", "male")))
                .smallestGroup(3)
                .build());
        List<CompareRow> rows = result.compare().stream()
                .filter(r -> r.at().visit().orElseThrow().name().equals("month3"))
                .toList();
        assertEquals(
                List.of("all 3 3", "Carpal tunnel 3 2"),
                rows.stream()
                        .map(r -> r.at().group().label() + " " + r.nA() + " " + r.nB())
                        .toList());
        // Improvements A 10, 22, 31, B 16, 25, 37.
        assertEquals(-5, rows.get(0).difference().value().optional().orElseThrow(), 1e-9);
        assertEquals(Optional.of(0.0), rows.get(0).responders().orElseThrow().difference());
        assertTrue(rows.get(0).responders().orElseThrow().interval95().isPresent());
        assertEquals(Optional.empty(), rows.get(1).responders().orElseThrow().difference());
        assertEquals(Optional.empty(), rows.get(1).responders().orElseThrow().interval95());
        assertTrue(methods(result).contains("whose SEX is 'Female' (A) with 'male' (B), always A minus B"));
        CompareRow later = result.compare().stream()
                .filter(r -> CohortClinic.is(r.at(), "all", "month12"))
                .findFirst()
                .orElseThrow();
        assertEquals(Optional.empty(), later.responders());
        assertEquals(Estimate.Reason.NO_VALUES, why(later.difference().value()));
    }

    @Test
    void groupsWithDifferentMcidsAreComparedByEachEpisodesOwn() {
        CohortClinic clinic = new CohortClinic(
                        CohortClinic.line().defaultsFor("ct", "m20", "", "").build())
                .vocabulary(VOCABULARY);
        for (int i = 0; i < 10; i++) {
            String condition = i < 5 ? "ct" : "td";
            clinic.episode("P" + i, "E1", Side.RIGHT, b -> b.condition(condition))
                    .line("P" + i, "E1", "baseline", 60)
                    .line("P" + i, "E1", "month3", 45);
        }
        CompareRow row = clinic.analyse(CohortRequest.builder()
                        .by(List.of())
                        .compare(Optional.of(new CohortRequest.Compare("condition", "CTS", "Trigger digit")))
                        .build())
                .compare()
                .get(0);
        assertEquals(McidUsed.EACH_EPISODES_OWN, row.responders().orElseThrow().mcid());
        assertEquals(Optional.of(-100.0), row.responders().orElseThrow().difference());
        assertEquals(Estimate.Reason.NO_SPREAD, why(row.difference().interval()));
        assertEquals(Estimate.Reason.NO_SPREAD, why(row.adjusted().difference().value()));
    }

    @Test
    void refusesWhatIsNotThere() {
        CohortClinic clinic = new CohortClinic()
                .vocabulary(VOCABULARY)
                .episode("P1", "E1", Side.RIGHT, b -> b.condition("ct").carried(Map.of("Surgeon", "x")))
                .line("P1", "E1", "baseline", 1)
                .rating("P1", "E1", "month3", 1);
        CohortRequest request = CohortRequest.builder()
                .by(List.of("surgeon", "sex+weather"))
                .compare(Optional.of(new CohortRequest.Compare("condition", "ct", "gout")))
                .anchor(Optional.of("line"))
                .build();
        assertEquals(
                List.of(
                        "'weather': episodes cannot be grouped by it; columns are condition, treated_side, sex, procedure,"
                                + " dominant_side, Surgeon.",
                        "'gout': no episode has this value; values are Carpal tunnel.",
                        "'line': it is no rating of change; ratings of change that were read are rating."),
                clinic.faults(request).stream().map(CohortFault::message).toList());
        assertThrows(IllegalArgumentException.class, () -> clinic.analyse(request));
        CohortRequest other = CohortRequest.builder()
                .compare(Optional.of(new CohortRequest.Compare("condition", "ct", "Carpal tunnel")))
                .anchor(Optional.of("nothing"))
                .build();
        assertEquals(
                List.of(CohortFault.Kind.COMPARED_WITH_ITSELF, CohortFault.Kind.ANCHOR_UNKNOWN),
                clinic.faults(other).stream().map(CohortFault::kind).toList());
        CohortRequest column = CohortRequest.builder()
                .compare(Optional.of(new CohortRequest.Compare("weather", "a", "b")))
                .build();
        assertEquals(
                List.of(CohortFault.Kind.COMPARED_COLUMN_UNKNOWN),
                clinic.faults(column).stream().map(CohortFault::kind).toList());
        assertEquals(
                "'x': there is no such instrument; ratings of change that were read are none.",
                new CohortFault(CohortFault.Kind.ANCHOR_UNKNOWN, "x", List.of()).message());
        for (CohortRequest.Builder bad : List.of(
                CohortRequest.builder().smallestGroup(0),
                CohortRequest.builder().resamples(0),
                CohortRequest.builder().retestDays(OptionalInt.of(-1)))) {
            assertThrows(IllegalArgumentException.class, bad::build);
        }
        assertThrows(IllegalArgumentException.class, () -> new Share(2, 1, true));
    }

    @Test
    void aClinicWithoutEpisodesHasNoRows() {
        CohortResult result = new CohortClinic().analyse(by("condition", "sex"));
        assertEquals(List.of(), result.standing().groups());
        assertEquals(1, result.groups().size());
        assertTrue(methods(result).contains("No form was read."));
    }

    @Test
    void countsWhatWasExpectedCameAndCouldNotBeScored() {
        Instrument two = ExampleInstrument.called("two")
                .items(2, ExampleInstrument.codes(0, 4))
                .scale("total", new ItemRule.Sum(1, PUBLISHED), ExampleInstrument.noneMissing(), new Range(0, 8))
                .build();
        Instrument open = ExampleInstrument.called("open")
                .items(1, ExampleInstrument.codes(0, 4))
                .build();
        CohortClinic clinic = new CohortClinic(two).knows(open).asOfDay(200);
        List<InstrumentId> forms = List.of(new InstrumentId("two"), new InstrumentId("open"));
        for (int i = 0; i < 6; i++) {
            LocalDate index = CohortClinic.INDEX.plusDays(i == 5 ? 190 : 0);
            clinic.episode("P" + i, "E1", Side.RIGHT, b -> b.forms(forms).indexDate(index));
        }
        clinic.episode("P6", "E1", Side.RIGHT, b -> b.forms(forms)
                .closure(Optional.of(new Episode.Closure(CohortClinic.INDEX.plusDays(3), "moved"))));
        for (int i = 0; i < 7; i++) {
            clinic.form("P" + i, "E1", i == 5 ? 185 : -7, two, "1=4 2=4");
        }
        clinic.form("P0", "E1", 91, two, "1=1 2=1");
        clinic.form("P1", "E1", 91, two, "1=1");
        clinic.form("P2", "E1", 91, two, "1=1 2=x");
        clinic.form("P3", "E1", 91, two, "1=1 2=1");
        clinic.form("P3", "E1", 91, two, "1=1 2=2");
        clinic.form("P0", "E1", 91, open, "1=1");
        CohortResult result = clinic.analyse();
        FlowRow row = flow(result, "two");
        assertEquals(new FlowRow.Asked(7, 1, 1, 5, 4), row.asked());
        assertEquals(1, row.scorable());
        assertEquals(OptionalInt.of(1), row.paired());
        assertEquals(Map.of(Reason.TOO_FEW_ANSWERED, 1, Reason.RESPONSE_NOT_ALLOWED, 1), row.notScored());
        assertEquals(1, row.enteredTwice());
        FlowRow items = flow(result, "open");
        assertEquals(new FlowRow.Asked(7, 1, 1, 5, 1), items.asked());
        assertEquals(1, items.scorable());
        assertEquals(OptionalInt.empty(), items.paired());
        // Seen again: 1; the window is over and nobody closed before: 4 more.
        AttritionRow attrition = result.standing().attrition().get(0);
        assertEquals(1, attrition.with().n());
        assertEquals(4, attrition.without().n());
        assertEquals(Estimate.Reason.ONE_VALUE, why(attrition.standardisedDifference()));
    }

    private static FlowRow flow(CohortResult result, String instrument) {
        return result.standing().flow().stream()
                .filter(r -> r.instrument().value().equals(instrument)
                        && r.visit().name().equals("month3"))
                .findFirst()
                .orElseThrow();
    }

    @Test
    void aFormThatNeverCameHasRowsWithoutScores() {
        CohortResult result = new CohortClinic().episode("P1", "E1").analyse();
        GroupRow row = CohortClinic.groupRow(result, "all", "month12");
        assertEquals(new GroupRow.Size(1, 1, 1, 0, 0), row.size());
        assertEquals(Estimate.Reason.NO_VALUES, why(row.scores()));
    }

    @Test
    void alphaIsOfCompleteFormsWithReversedItemsTurned() {
        Instrument three = ExampleInstrument.called("line")
                .items(3, ExampleInstrument.codes(1, 5))
                .scale(
                        "total",
                        new ItemRule.Sum(1, PUBLISHED),
                        ExampleInstrument.atLeast(2),
                        new Range(3, 15),
                        "1",
                        "-2",
                        "3")
                .build();
        CohortClinic clinic = new CohortClinic(three);
        String[] answers = {"1=1 2=5 3=1", "1=2 2=4 3=2", "1=3 2=3 3=4", "1=4 2=1 3=4", "1=5 3=1"};
        for (int i = 0; i < answers.length; i++) {
            clinic.episode("P" + i, "E1").form("P" + i, "E1", -7, three, answers[i]);
        }
        List<ReliabilityRow> rows = clinic.analyse().measurement().reliability();
        assertEquals(
                List.of(
                        "alpha",
                        "alpha-without:1",
                        "alpha-without:2",
                        "alpha-without:3",
                        "item-rest:1",
                        "item-rest:2",
                        "item-rest:3"),
                rows.stream().map(ReliabilityRow::quantity).toList());
        // Items 1 2 3 4; 1 2 3 5; 1 2 4 4: variances 5/3, 35/12, 9/4; sums 3 6 10 13, variance 58/3: 1.5 (1 - (82/12) /
        // (58/3))
        assertEquals(
                1.5 * (1 - 82.0 / 12 / (58.0 / 3)),
                rows.get(0).value().optional().orElseThrow(),
                1e-12);
        assertEquals(4, rows.get(0).n());
    }

    @Test
    void aRetestIsTheFirstPairOfAPatientsSideWhileStable() {
        CohortClinic clinic = new CohortClinic();
        double[][] scores = {{10, 12, 30}, {20, 19, 30}, {40, 44, 30}};
        for (int i = 0; i < scores.length; i++) {
            String patient = "P" + i;
            clinic.episode(patient, "E1");
            clinic.form(patient, "E1", -20, lineOf(clinic), "1=" + scores[i][0]);
            clinic.form(patient, "E1", -10, lineOf(clinic), "1=" + scores[i][1]);
            clinic.form(patient, "E1", 0, lineOf(clinic), "1=" + scores[i][2]);
        }
        // A later episode of the same side: not the first pair.
        clinic.episode("P0", "E2", Side.RIGHT, b -> b.indexDate(CohortClinic.INDEX.plusDays(40)));
        clinic.form("P0", "E2", 25, lineOf(clinic), "1=90").form("P0", "E2", 30, lineOf(clinic), "1=10");
        // After treatment: a change in the patient is not excluded, unless the rating says so.
        clinic.episode("P9", "E1").line("P9", "E1", "month3", 50);
        clinic.form("P9", "E1", 95, lineOf(clinic), "1=53").form("P9", "E1", 95, CohortClinic.RATING, "1=0");
        CohortRequest.Builder request = CohortRequest.builder().by(List.of()).retestDays(OptionalInt.of(14));
        ReliabilityRow limits = quantity(clinic.analyse(request.build()), "limits-of-agreement");
        assertEquals(3, limits.n());
        assertEquals(5.0 / 3, limits.value().optional().orElseThrow(), 1e-12);
        ReliabilityRow rated = quantity(
                clinic.analyse(
                        request.anchor(Optional.of("rating")).resamples(5).build()),
                "limits-of-agreement");
        assertEquals(4, rated.n());
        assertEquals(2, rated.value().optional().orElseThrow(), 1e-12);
        ReliabilityRow mdc = quantity(clinic.analyse(request.build()), "mdc95");
        ReliabilityRow sem = quantity(clinic.analyse(request.build()), "sem-agreement");
        assertEquals(
                1.959963984540054 * Math.sqrt(2) * sem.value().optional().orElseThrow(),
                mdc.value().optional().orElseThrow(),
                1e-12);
        ReliabilityRow nobody = quantity(
                new CohortClinic()
                        .episode("P1", "E1")
                        .analyse(request.anchor(Optional.empty()).build()),
                "icc-2-1");
        assertEquals(0, nobody.n());
        assertEquals(Estimate.Reason.NO_VALUES, why(nobody.value()));
    }

    private static Instrument lineOf(CohortClinic clinic) {
        return clinic.find("line").orElseThrow();
    }

    private static ReliabilityRow quantity(CohortResult result, String name) {
        return result.measurement().reliability().stream()
                .filter(r -> r.quantity().equals(name)
                        && r.at().instrument().id().value().equals("line"))
                .findFirst()
                .orElseThrow();
    }

    @Test
    void scoresOfTwoVersionsAreGroupedAndNeverOneChange() {
        Instrument newer = CohortClinic.line().version("4").build();
        CohortClinic clinic = new CohortClinic()
                .episode("P1", "E1")
                .line("P1", "E1", "baseline", 60)
                .form("P1", "E1", 91, newer, "1=20")
                .episode("P2", "E1")
                .line("P2", "E1", "baseline", 60)
                .line("P2", "E1", "month3", 20);
        CohortResult result = clinic.analyse();
        GroupRow row = CohortClinic.groupRow(result, "all", "month3");
        assertEquals("line@4", row.at().instrument().definition());
        assertEquals(2, row.size().scored());
        assertEquals(1, improvementOf(row).paired());
        assertTrue(methods(result).contains("line@3, line@4"));
    }

    @Test
    void baselineHasRowsWithoutImprovement() {
        CohortResult result = pairs(1, 2).analyse();
        assertEquals(
                Optional.empty(),
                CohortClinic.groupRow(result, "all", "baseline").improvement());
        assertEquals(2, CohortClinic.groupRow(result, "all", "baseline").size().scored());
        assertEquals(
                List.of("baseline", "month3", "month12"),
                result.standing().groups().stream()
                        .map(r -> r.at().visit().map(Visit::name).orElse(""))
                        .toList());
        assertFalse(result.responders().stream().anyMatch(r -> CohortClinic.is(r.at(), "all", "baseline")));
    }
}
