package lumbrical.followup;

import static lumbrical.scoring.ExampleInstrument.PUBLISHED;
import static org.junit.jupiter.api.Assertions.assertEquals;

import java.util.List;
import java.util.Map;
import java.util.Optional;
import lumbrical.instrument.Instrument;
import lumbrical.instrument.ItemRule;
import lumbrical.instrument.Range;
import lumbrical.instrument.Side;
import lumbrical.instrument.Threshold;
import lumbrical.scoring.ExampleInstrument;
import lumbrical.scoring.Reason;
import lumbrical.statistics.Quantiles;
import lumbrical.threshold.ExampleThreshold;
import org.junit.jupiter.api.Test;

/** A clinic on one page, counted by hand: invented patients, MCID 20 (others published: 10 and 40), MDC 30. */
class OverviewTest {
    private static final Instrument LEVEL = level("level", 20);

    private static Instrument level(String id, double mcid) {
        return ExampleInstrument.called(id)
                .items(2, ExampleInstrument.mark(0, 100))
                .scale("total", new ItemRule.Mean(PUBLISHED), ExampleInstrument.atLeast(1), new Range(0, 100))
                .defaults("mcid", "mdc", "")
                .threshold(mcid("mcid", mcid).build())
                .threshold(mcid("low", 10).build())
                .threshold(mcid("high", 40).build())
                .threshold(mcid("bound", 1).boundTo("fresh fracture").build())
                .threshold(ExampleThreshold.called("mdc", Threshold.Kind.MDC)
                        .value(30)
                        .build())
                .build();
    }

    private static ExampleThreshold mcid(String id, double value) {
        return ExampleThreshold.called(id, Threshold.Kind.MCID).value(value).study(id);
    }

    private static String both(double value) {
        return "1=" + value + " 2=" + value;
    }

    /**
     * P1 right 80 to 40 (improved by 40), P2 right 60 to 40 (by 20, within error), P3 left 10 to 50 (worse by 40, no room), P4
     * without a baseline 30, P1 left 50 without a follow-up and with another that cannot be scored.
     */
    private static ExampleClinic clinic() {
        return new ExampleClinic()
                .episodes(
                        ExampleEpisode.called("E1"),
                        ExampleEpisode.called("E2").left(),
                        ExampleEpisode.called("E1").patient("P2"),
                        ExampleEpisode.called("E1").patient("P3").left(),
                        ExampleEpisode.called("E1").patient("P4"),
                        ExampleEpisode.called("E2").patient("P4"))
                .sitting(-1, LEVEL, both(80))
                .sitting(42, LEVEL, both(40))
                .sitting(44, LEVEL, both(0)) // farther from the target: not used
                .of("P1", Optional.of(Side.LEFT))
                .sitting(-1, LEVEL, both(50))
                .sitting(42, LEVEL, "1=101")
                .of("P2", Optional.of(Side.RIGHT))
                .sitting(-1, LEVEL, both(60))
                .sitting(42, LEVEL, both(40))
                .of("P3", Optional.of(Side.LEFT))
                .sitting(-1, LEVEL, both(10))
                .sitting(42, LEVEL, both(50))
                .of("P4", Optional.of(Side.RIGHT))
                .naming("E1")
                .sitting(42, LEVEL, both(30))
                .sitting(91, LEVEL, "");
    }

    @Test
    void countsPatientsEpisodesAndSittings() {
        Overview overview = Overview.of(clinic().analyse());
        assertEquals(
                List.of(4, 6, 1, 10),
                List.of(overview.patients(), overview.episodes(), overview.bilateral(), overview.sittings()));
        assertEquals(Map.of(Reason.RESPONSE_NOT_ALLOWED, 1), overview.notScored());
    }

    /** Baselines 10, 50, 60, 80; at 6 weeks 30, 40, 40, 50: quartiles by position (n - 1) p from the lowest. */
    @Test
    void oneCellForEachScaleAndVisit() {
        List<Overview.Cell> cells = Overview.of(clinic().analyse()).cells();
        assertEquals(
                List.of("baseline", "6 weeks"),
                cells.stream().map(c -> c.visit().name()).toList());
        Overview.Cell before = cells.get(0);
        assertEquals(new Quantiles(4, 50, 40, 55, 65), before.scores());
        assertEquals(
                List.of(0, 0, 0, 0, 0),
                List.of(
                        before.paired(),
                        before.assessable(),
                        before.reachedMcid(),
                        before.worsened(),
                        before.couldNotReach()));
        assertEquals(Optional.empty(), before.mcid());
        Overview.Cell after = cells.get(1);
        assertEquals("level", after.instrument().id().value());
        assertEquals("total", after.scale().id().value());
        assertEquals(new Quantiles(4, 40, 37.5, 40, 42.5), after.scores());
        assertEquals(
                List.of(3, 3, 2, 1, 1),
                List.of(
                        after.paired(),
                        after.assessable(),
                        after.reachedMcid(),
                        after.worsened(),
                        after.couldNotReach()));
        assertEquals(Optional.of("mcid"), after.mcid().map(Threshold::id));
    }

    /** Improvements 40, 20 and -40: two reach 10, one reaches 40; the MCID bound to fractures is not counted for all. */
    @Test
    void theShareImprovedDependsOnTheMcid() {
        List<Overview.Sensitivity> all = Overview.of(clinic().analyse()).sensitivities();
        assertEquals(1, all.size());
        Overview.Sensitivity s = all.get(0);
        assertEquals("6 weeks", s.visit().name());
        assertEquals("level total", s.instrument().id() + " " + s.scale().id());
        assertEquals(List.of(3, 2, 1), List.of(s.paired(), s.atLowest(), s.atHighest()));
        assertEquals(List.of(10.0, 40.0), List.of(s.lowest(), s.highest()));
    }

    @Test
    void withoutPublishedMcidsOrPairsThereIsNoSensitivity() {
        Instrument bare = ExampleInstrument.called("bare")
                .items(1, ExampleInstrument.mark(0, 100))
                .scale("total", new ItemRule.Mean(PUBLISHED), ExampleInstrument.atLeast(1), new Range(0, 100))
                .build();
        ExampleClinic noMcid = new ExampleClinic()
                .episodes(ExampleEpisode.called("E1"))
                .sitting(-1, bare, "1=80")
                .sitting(42, bare, "1=40");
        assertEquals(List.of(), Overview.of(noMcid.analyse()).sensitivities());
        ExampleClinic noPair =
                new ExampleClinic().episodes(ExampleEpisode.called("E1")).sitting(42, LEVEL, both(3));
        assertEquals(List.of(), Overview.of(noPair.analyse()).sensitivities());
        assertEquals(1, Overview.of(noPair.analyse()).cells().size());
    }

    @Test
    void withDifferentMcidsByConditionNoneIsNamed() {
        Instrument byCondition = ExampleInstrument.called("level")
                .items(2, ExampleInstrument.mark(0, 100))
                .scale("total", new ItemRule.Mean(PUBLISHED), ExampleInstrument.atLeast(1), new Range(0, 100))
                .defaults("bound", "", "")
                .threshold(mcid("bound", 1).boundTo("fresh fracture").build())
                .build();
        ExampleClinic clinic = new ExampleClinic()
                .episodes(
                        ExampleEpisode.called("E1").condition("fresh fracture"),
                        ExampleEpisode.called("E1").patient("P2"))
                .sitting(-1, byCondition, both(80))
                .sitting(42, byCondition, both(40))
                .of("P2", Optional.of(Side.RIGHT))
                .sitting(-1, byCondition, both(80))
                .sitting(42, byCondition, both(40));
        Overview.Cell after = Overview.of(clinic.analyse()).cells().get(1);
        assertEquals(Optional.empty(), after.mcid());
        assertEquals(List.of(2, 1), List.of(after.paired(), after.assessable()));
    }

    @Test
    void cellsFollowFormsScalesAndVisits() {
        Instrument two = ExampleInstrument.called("atwo")
                .items(2, ExampleInstrument.mark(0, 100))
                .scale("z", new ItemRule.Sum(1, PUBLISHED), ExampleInstrument.noneMissing(), new Range(0, 100), "1")
                .scale("a", new ItemRule.Sum(1, PUBLISHED), ExampleInstrument.noneMissing(), new Range(0, 100), "2")
                .build();
        ExampleClinic clinic = new ExampleClinic()
                .episodes(ExampleEpisode.called("E1"))
                .sitting(91, LEVEL, both(3))
                .with(two, both(1))
                .sitting(-1, LEVEL, both(3))
                .with(two, both(1));
        assertEquals(
                List.of(
                        "atwo z baseline",
                        "atwo z 3 months",
                        "atwo a baseline",
                        "atwo a 3 months",
                        "level total baseline",
                        "level total 3 months"),
                Overview.of(clinic.analyse()).cells().stream()
                        .map(c -> c.instrument().id() + " " + c.scale().id() + " "
                                + c.visit().name())
                        .toList());
    }
}
