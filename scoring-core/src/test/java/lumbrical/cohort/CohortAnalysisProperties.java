package lumbrical.cohort;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.util.ArrayList;
import java.util.Collections;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalInt;
import java.util.Random;
import java.util.concurrent.ForkJoinPool;
import java.util.regex.Pattern;
import lumbrical.followup.FollowUpAnalysis;
import lumbrical.followup.FollowUpResult;
import lumbrical.instrument.Instrument;
import lumbrical.instrument.Range;
import lumbrical.instrument.Side;
import lumbrical.statistics.Estimate;
import lumbrical.statistics.TInterval;
import lumbrical.threshold.ThresholdChoice;
import net.jqwik.api.Arbitraries;
import net.jqwik.api.Arbitrary;
import net.jqwik.api.Combinators;
import net.jqwik.api.EdgeCasesMode;
import net.jqwik.api.ForAll;
import net.jqwik.api.Property;
import net.jqwik.api.Provide;

/** What must hold for any clinic. */
class CohortAnalysisProperties {
    /** An episode: whose, its group, scores at baseline and month 3 (101 = none), and a rating. */
    record Given(int patient, String group, int before, int after, int rating) {}

    private static final Pattern DECIMAL = Pattern.compile("-?\\d+\\.\\d+(E-?\\d+)?");
    private static final Instrument LOWER = CohortClinic.line().build();
    private static final Instrument HIGHER =
            CohortClinic.line().higherIsBetter().build();

    @Provide
    Arbitrary<List<Given>> clinics() {
        Arbitrary<Integer> score = Arbitraries.integers().between(0, 101);
        return Combinators.combine(
                        Arbitraries.integers().between(1, 12),
                        Arbitraries.of("A", "B", ""),
                        score,
                        score,
                        Arbitraries.integers().between(-3, 4))
                .as(Given::new)
                .list()
                .ofMinSize(1)
                .ofMaxSize(25);
    }

    private static CohortClinic clinic(List<Given> all, Instrument line, boolean mirrored) {
        CohortClinic clinic = new CohortClinic(line);
        for (int i = 0; i < all.size(); i++) {
            Given given = all.get(i);
            add(clinic, given, "P" + given.patient(), "E" + i, mirrored);
        }
        return clinic;
    }

    private static void add(CohortClinic clinic, Given given, String patient, String id, boolean mirrored) {
        clinic.episode(patient, id, Side.RIGHT, b -> b.carried(Map.of("arm", given.group())));
        if (given.before() <= 100) {
            clinic.line(patient, id, "baseline", mirrored ? 100 - given.before() : given.before());
        }
        if (given.after() <= 100) {
            clinic.line(patient, id, "month3", mirrored ? 100 - given.after() : given.after());
            if (given.rating() <= 3) {
                clinic.rating(patient, id, "month3", given.rating());
            }
        }
    }

    private static CohortRequest request(List<Given> all) {
        boolean both = all.stream().anyMatch(g -> g.group().equals("A"))
                && all.stream().anyMatch(g -> g.group().equals("B"));
        return CohortRequest.builder()
                .by(List.of("arm", "treated_side+arm"))
                .compare(both ? Optional.of(new CohortRequest.Compare("arm", "A", "B")) : Optional.empty())
                .anchor(Optional.of("rating"))
                .retestDays(OptionalInt.of(200))
                .resamples(20)
                .build();
    }

    @Property(tries = 100, edgeCases = EdgeCasesMode.NONE)
    void theOrderOfEpisodesAndFormsMakesNoDifference(@ForAll("clinics") List<Given> all, @ForAll long seed) {
        CohortClinic clinic = clinic(all, LOWER, false);
        CohortResult expected = clinic.analyse(request(all));
        Collections.shuffle(clinic.forms(), new Random(seed));
        Collections.shuffle(clinic.episodes(), new Random(seed));
        assertEquals(expected, clinic.analyse(request(all)));
    }

    /** Episodes handed on one at a time and kept by nobody give what a clinic held whole gives, forms entered twice included. */
    @Property(tries = 100, edgeCases = EdgeCasesMode.NONE)
    void aClinicNeedNotBeHeldWhole(@ForAll("clinics") List<Given> all, @ForAll long seed) {
        CohortClinic clinic = clinic(all, LOWER, false);
        for (int i = 0; i < all.size(); i += 3) { // again, with the same answer or another; and one that is not allowed
            clinic.line("P" + all.get(i).patient(), "E" + i, "month12", i);
            clinic.line("P" + all.get(i).patient(), "E" + i, "month12", i % 2 == 0 ? i : 100);
            clinic.line("P" + all.get(i).patient(), "E" + i, "baseline", 200);
        }
        Collections.shuffle(clinic.forms(), new Random(seed));
        FollowUpResult whole = clinic.followUp();
        CohortCollector collector = new CohortCollector(request(all), clinic::find);
        FollowUpResult rest = FollowUpAnalysis.analyse(
                clinic.forms(), clinic.episodes(), whole.schedule(), whole.asOf(), ThresholdChoice.DEFAULTS, collector);
        assertEquals(List.of(), collector.faults());
        assertEquals(clinic.analyse(request(all)), collector.result());
        assertEquals(whole.problems(), rest.problems());
        assertEquals(whole.counts(), rest.counts());
    }

    /** The forms and the scores of many held episodes are taken at the same time. */
    @Property(tries = 5, edgeCases = EdgeCasesMode.NONE)
    void manyEpisodesHeldGiveWhatTheyGiveOneByOne(@ForAll long seed) {
        Random random = new Random(seed);
        List<Given> all = new ArrayList<>();
        for (int i = 0; i < 1_200; i++) {
            all.add(new Given(
                    1 + random.nextInt(900),
                    List.of("A", "B", "").get(random.nextInt(3)),
                    random.nextInt(102),
                    random.nextInt(102),
                    random.nextInt(8) - 3));
        }
        CohortClinic clinic = clinic(all, LOWER, false);
        CohortCollector oneByOne = new CohortCollector(request(all), clinic::find);
        FollowUpResult whole = clinic.followUp();
        FollowUpAnalysis.analyse(
                clinic.forms(), clinic.episodes(), whole.schedule(), whole.asOf(), ThresholdChoice.DEFAULTS, oneByOne);
        assertEquals(oneByOne.result(), clinic.analyse(request(all)));
    }

    @Property(tries = 20, edgeCases = EdgeCasesMode.NONE)
    void oneProcessorGivesWhatManyGive(@ForAll("clinics") List<Given> all) throws Exception {
        CohortClinic clinic = clinic(all, LOWER, false);
        ForkJoinPool one = new ForkJoinPool(1);
        try {
            assertEquals(
                    clinic.analyse(request(all)),
                    one.submit(() -> clinic.analyse(request(all))).get());
        } finally {
            one.shutdown();
        }
    }

    @Property(tries = 100, edgeCases = EdgeCasesMode.NONE)
    void aGroupHasTheCountsOfItsParts(@ForAll("clinics") List<Given> all) {
        CohortResult result = clinic(all, LOWER, false).analyse(request(all));
        for (GroupRow whole : result.standing().groups()) {
            if (whole.at().group().equals(CohortGroup.ALL)) {
                List<GroupRow> parts = result.standing().groups().stream()
                        .filter(r -> r.at().group().by().equals("arm")
                                && r.at().instrument().equals(whole.at().instrument())
                                && r.at().visit().equals(whole.at().visit()))
                        .toList();
                assertEquals(
                        whole.size().scored(),
                        parts.stream().mapToInt(r -> r.size().scored()).sum());
                assertEquals(
                        whole.size().received(),
                        parts.stream().mapToInt(r -> r.size().received()).sum());
                assertEquals(
                        whole.bestPossible(),
                        parts.stream().mapToInt(GroupRow::bestPossible).sum());
                double sum = parts.stream()
                        .mapToDouble(CohortAnalysisProperties::sumOfImprovements)
                        .sum();
                assertEquals(sumOfImprovements(whole), sum, 1e-6);
            }
        }
        // Crossed with a column that has one value, the groups are the same but for their names.
        List<String> crossed = rowsOf(result, "treated_side+arm");
        assertEquals(rowsOf(result, "arm"), crossed);
    }

    private static List<String> rowsOf(CohortResult result, String by) {
        return result.standing().groups().stream()
                .filter(r -> r.at().group().by().equals(by))
                .map(r -> r.at().group().label().replace("right / ", "")
                        + r.at().visit()
                        + r.size()
                        + r.scores()
                        + r.improvement())
                .toList();
    }

    private static double sumOfImprovements(GroupRow row) {
        return row.improvement()
                .flatMap(i -> i.values().optional().map(v -> v.quantiles().mean() * i.paired()))
                .orElse(0.0);
    }

    /** Mirrored scores on a mirrored scale: improvements, and all that follows from them, stay. */
    @Property(tries = 100, edgeCases = EdgeCasesMode.NONE)
    void whichWayTheScaleRunsMakesNoDifferenceToImprovement(@ForAll("clinics") List<Given> all) {
        CohortResult lower = clinic(all, LOWER, false).analyse(request(all));
        CohortResult higher = clinic(all, HIGHER, true).analyse(request(all));
        assertEquals(improvements(lower), improvements(higher));
        assertEquals(
                lower.ecdf().stream()
                        .map(r -> r.improvement() + " " + r.atLeast())
                        .toList(),
                higher.ecdf().stream()
                        .map(r -> r.improvement() + " " + r.atLeast())
                        .toList());
        assertEquals(responders(lower), responders(higher));
        assertEquals(
                lower.measurement().ownMcid().stream()
                        .map(r -> rounded(r.method() + " " + r.estimate() + r.sample()))
                        .toList(),
                higher.measurement().ownMcid().stream()
                        .map(r -> rounded(r.method() + " " + r.estimate() + r.sample()))
                        .toList());
        assertEquals(
                lower.standing().groups().stream().map(GroupRow::bestPossible).toList(),
                higher.standing().groups().stream().map(GroupRow::bestPossible).toList());
    }

    private static List<String> improvements(CohortResult result) {
        return result.standing().groups().stream()
                .map(r -> rounded(r.at().visit() + " " + r.improvement()))
                .toList();
    }

    /** Sums that are equal by arithmetic can differ in the last bits. */
    private static String rounded(String text) {
        return DECIMAL.matcher(text)
                .replaceAll(m -> String.format(Locale.ROOT, "%.8f", Double.parseDouble(m.group()) + 0.0));
    }

    private static List<String> responders(CohortResult result) {
        return result.responders().stream()
                .map(r -> r.improved() + " " + r.worsened() + " " + r.couldNotReach() + " " + r.beyondError() + " "
                        + r.ifMissing())
                .toList();
    }

    /** As much again of the same says nothing new: the interval by patients stays, the one that ignores them would shrink. */
    @Property(tries = 100, edgeCases = EdgeCasesMode.NONE)
    void aCopyOfEveryEpisodeLeavesTheIntervalAsItIs(@ForAll("clinics") List<Given> all) {
        CohortClinic once = new CohortClinic();
        CohortClinic twice = new CohortClinic();
        for (int i = 0; i < all.size(); i++) {
            String patient = "P" + i;
            add(once, all.get(i), patient, "E1", false);
            add(twice, all.get(i), patient, "E1", false);
            add(twice, all.get(i), patient, "E2", false);
        }
        Estimate<TInterval> single =
                once.all("month3").improvement().orElseThrow().mean();
        GroupRow.Improvement doubled = twice.all("month3").improvement().orElseThrow();
        Optional<Range> expected = single.map(TInterval::interval).optional();
        Optional<Range> actual = doubled.mean().map(TInterval::interval).optional();
        assertEquals(expected.isPresent(), actual.isPresent());
        if (expected.isPresent()) {
            assertTrue(doubled.clustered());
            assertEquals(expected.get().low(), actual.orElseThrow().low(), 1e-9);
            assertEquals(expected.get().high(), actual.orElseThrow().high(), 1e-9);
        }
    }

    @Property(tries = 100, edgeCases = EdgeCasesMode.NONE)
    void nothingIsNotANumberAndNoShareIsOfASmallGroup(@ForAll("clinics") List<Given> all) {
        CohortResult result = clinic(all, LOWER, false).analyse(request(all));
        List<Share> shares = new ArrayList<>();
        result.responders()
                .forEach(r -> shares.addAll(List.of(
                        r.improved(), r.ifMissing().notImproved(), r.ifMissing().improved())));
        result.ecdf().forEach(r -> shares.add(r.atLeast()));
        shares.forEach(s -> assertEquals(s.of() >= 5, s.percent().isPresent()));
        assertTrue(result.ecdf().stream().allMatch(r -> r.atLeast().of() >= 5));
        assertTrue(result.toString().indexOf("NaN") < 0 && result.toString().indexOf("Infinity") < 0);
    }

    @Property(tries = 50, edgeCases = EdgeCasesMode.NONE)
    void withOneEpisodeEachNoIntervalIsClustered(@ForAll("clinics") List<Given> all) {
        CohortClinic clinic = clinic(all, LOWER, false);
        CohortResult result = CohortAnalysis.of(
                FollowUpAnalysis.analyse(
                        clinic.forms(),
                        clinic.episodes(),
                        CohortClinic.SCHEDULE,
                        CohortClinic.INDEX.plusYears(3),
                        ThresholdChoice.DEFAULTS),
                ThresholdChoice.DEFAULTS,
                CohortRequest.builder().by(List.of("arm")).oneEpisodeEach(true).build(),
                clinic::find);
        for (GroupRow row : result.standing().groups()) {
            assertEquals(row.size().patients(), row.size().episodes());
            assertTrue(row.improvement().filter(GroupRow.Improvement::clustered).isEmpty());
        }
    }
}
