package lumbrical.followup;

import static lumbrical.scoring.ExampleInstrument.PUBLISHED;
import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.time.LocalDate;
import java.util.ArrayList;
import java.util.Collections;
import java.util.EnumSet;
import java.util.List;
import java.util.Random;
import java.util.Set;
import lumbrical.change.Change;
import lumbrical.instrument.Instrument;
import lumbrical.instrument.ItemRule;
import lumbrical.instrument.Range;
import lumbrical.instrument.Threshold;
import lumbrical.scoring.ExampleInstrument;
import lumbrical.sitting.ScoredForm;
import lumbrical.threshold.ExampleThreshold;
import lumbrical.threshold.ThresholdChoice;
import net.jqwik.api.Arbitraries;
import net.jqwik.api.Arbitrary;
import net.jqwik.api.Combinators;
import net.jqwik.api.ForAll;
import net.jqwik.api.Property;
import net.jqwik.api.Provide;
import net.jqwik.api.constraints.IntRange;

/** What must hold for any sittings of a patient. */
class FollowUpAnalysisProperties {
    /** A sitting so many days after the index date, two items 0 to 10, 11 = blank. */
    record Given(int day, int first, int second) {
        String answers(boolean mirrored) {
            return item(1, first, mirrored) + item(2, second, mirrored);
        }

        private static String item(int item, int code, boolean mirrored) {
            return code > 10 ? "" : " " + item + "=" + (mirrored ? 10 - code : code);
        }
    }

    private static ExampleInstrument level() {
        return ExampleInstrument.called("level")
                .items(2, ExampleInstrument.codes(0, 10))
                .scale("total", new ItemRule.Mean(PUBLISHED), ExampleInstrument.atLeast(1), new Range(0, 10))
                .defaults("mcid", "mdc", "")
                .threshold(ExampleThreshold.called("mcid", Threshold.Kind.MCID)
                        .value(2)
                        .build())
                .threshold(ExampleThreshold.called("mdc", Threshold.Kind.MDC)
                        .value(3)
                        .build());
    }

    private static final Instrument LOWER = level().build();
    private static final Instrument HIGHER = level().higherIsBetter().build();

    /** On different days, so that no two are doubles. */
    @Provide
    Arbitrary<List<Given>> courses() {
        Arbitrary<Integer> code = Arbitraries.integers().between(0, 11);
        return Combinators.combine(Arbitraries.integers().between(-100, 200), code, code)
                .as(Given::new)
                .list()
                .ofMinSize(1)
                .ofMaxSize(8)
                .uniqueElements(Given::day);
    }

    private static ExampleClinic clinic(List<Given> course, Instrument instrument, boolean mirrored) {
        ExampleClinic clinic =
                new ExampleClinic().episodes(ExampleEpisode.called("E1").forms("level"));
        course.forEach(g -> clinic.sitting(g.day(), instrument, g.answers(mirrored)));
        return clinic;
    }

    private static List<String> changes(FollowUpResult clinic) {
        return clinic.changes()
                .map(r -> r.followUp().form().sitting().completedOn() + " " + r.used() + " " + inWords(r.change()))
                .toList();
    }

    private static String inWords(Change c) {
        return c.baseline() + " " + c.improvement() + " " + c.beyondError() + " " + c.reachesMcid() + " " + c.verdict()
                + " " + c.gapsCouldChangeVerdict() + " " + c.couldReach() + " " + c.improvementBounds();
    }

    /** Judged whenever asked for, an episode is what it is where all are held, but for grips and expected forms. */
    @Property(tries = 300)
    void anEpisodeJudgedOnDemandIsTheOneThatIsHeld(@ForAll("courses") List<Given> course) {
        ExampleClinic clinic = clinic(course, LOWER, false);
        FollowUpResult all = clinic.analyse();
        FollowUpSource held = FollowUpSource.of(all);
        List<EpisodeFollowUp> taken = new ArrayList<>();
        FollowUpOnDemand demanded = clinic.onDemand(new EpisodeSink() {
            @Override
            public void begins(List<Episode> episodes, Schedule schedule, LocalDate asOf, ThresholdChoice choice) {
                assertEquals(1, episodes.size());
            }

            @Override
            public void accept(EpisodeFollowUp episode) {
                taken.add(episode);
            }
        });
        assertEquals(held.asOf(), demanded.asOf());
        assertEquals(held.schedule(), demanded.schedule());
        assertEquals(held.listed(), demanded.listed());
        assertEquals(all.problems(), demanded.summary().problems());
        for (Episode episode : held.listed()) {
            EpisodeFollowUp one = held.followUp(episode.key());
            for (int again = 0; again < 2; again++) {
                EpisodeFollowUp other = demanded.followUp(episode.key());
                assertEquals(one.forms(), other.forms());
                assertEquals(one.series(), other.series());
                assertEquals(one.condition(), other.condition());
            }
        }
        assertEquals(all.episodes().get(0).expected(), taken.get(0).expected());
        List<ScoredForm> first = new ArrayList<>();
        List<ScoredForm> second = new ArrayList<>();
        held.eachForm(f -> first.add(f.form()));
        demanded.eachForm(f -> second.add(f.form()));
        assertEquals(first, second);
        Episode.Key none = ExampleEpisode.called("none").build().key();
        assertThrows(IllegalArgumentException.class, () -> held.followUp(none));
        assertThrows(IllegalArgumentException.class, () -> demanded.followUp(none));
    }

    @Property(tries = 300)
    void theOrderOfTheRowsChangesNothing(@ForAll("courses") List<Given> course, @ForAll Random random) {
        ExampleClinic clinic = clinic(course, LOWER, false);
        FollowUpResult asGiven = clinic.analyse();
        List<ScoredForm> shuffled = new ArrayList<>(clinic.forms());
        Collections.shuffle(shuffled, random);
        FollowUpResult again = clinic.analyse(shuffled);
        assertEquals(changes(asGiven), changes(again));
        assertEquals(asGiven.counts(), again.counts());
        assertEquals(asGiven.expected().toList(), again.expected().toList());
    }

    /** The same state told on a scale that runs the other way. */
    @Property(tries = 300)
    void turningTheScaleRoundKeepsEveryVerdict(@ForAll("courses") List<Given> course) {
        assertEquals(
                turned(changes(clinic(course, LOWER, false).analyse())),
                turned(changes(clinic(course, HIGHER, true).analyse())));
    }

    /** Without the baseline's score, which is the mirrored one. */
    private static List<String> turned(List<String> changes) {
        return changes.stream()
                .map(c -> c.replaceFirst(" OptionalDouble(\\[[0-9.]+]|.empty)", ""))
                .toList();
    }

    @Property(tries = 300)
    void everyFollowUpHasARowAndAtMostOneIsUsedAtAVisit(@ForAll("courses") List<Given> course) {
        FollowUpResult clinic = clinic(course, LOWER, false).analyse();
        long inWindow = course.stream()
                .filter(g -> g.first() <= 10 || g.second() <= 10)
                .filter(g -> Schedule.DEFAULT
                        .visitOn(g.day())
                        .filter(v -> v.role() == Visit.Role.FOLLOW_UP)
                        .isPresent())
                .count();
        assertEquals(inWindow, clinic.changes().count());
        List<String> used = clinic.changes()
                .filter(ChangeRow::used)
                .map(c -> c.followUp().at().visitName().orElseThrow())
                .toList();
        assertEquals(used.size(), used.stream().distinct().count());
        clinic.changes().map(ChangeRow::change).forEach(c -> c.improvement().ifPresent(improvement -> {
            Range bounds = c.improvementBounds().orElseThrow();
            assertTrue(bounds.low() <= improvement && improvement <= bounds.high());
        }));
    }

    /** Every expected form is received, waited for or closed inside its window; those not expected are counted apart. */
    @Property(tries = 300)
    void expectedIsReceivedAndNotReceivedTogether(
            @ForAll("courses") List<Given> course,
            @ForAll @IntRange(min = -10, max = 1000) int today,
            @ForAll @IntRange(min = -10, max = 1000) int closed) {
        ExampleClinic clinic = new ExampleClinic()
                .episodes(ExampleEpisode.called("E1").forms("level").closedOnDay(closed))
                .asOfDay(today);
        course.forEach(g -> clinic.sitting(g.day(), LOWER, g.answers(false)));
        FollowUpResult result = clinic.analyse();
        assertEquals(Schedule.DEFAULT.visits().size(), result.counts().size());
        for (VisitCount count : result.counts()) {
            List<ExpectedForm> forms = result.expected()
                    .filter(e -> e.visit().equals(count.visit()))
                    .toList();
            long received = forms.stream().filter(ExpectedForm::received).count();
            long waiting = forms.stream()
                    .filter(e -> WAITED_FOR_OR_CLOSED.contains(e.state()))
                    .count();
            assertEquals(received, count.received());
            assertEquals(received + waiting, count.expected());
            assertEquals(1, count.expected() + count.closed() + count.notYet());
        }
    }

    private static final Set<ExpectedForm.State> WAITED_FOR_OR_CLOSED = EnumSet.of(
            ExpectedForm.State.OPEN, ExpectedForm.State.LATE, ExpectedForm.State.MISSED, ExpectedForm.State.CLOSED);
}
