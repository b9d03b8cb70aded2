package lumbrical.cohort;

import static lumbrical.statistics.Reference.valueOf;
import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.IOException;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.TreeSet;
import java.util.regex.Pattern;
import lumbrical.condition.ConditionVocabulary;
import lumbrical.instrument.Range;
import lumbrical.instrument.Side;
import lumbrical.statistics.AnchorMethod;
import lumbrical.statistics.Reference;
import lumbrical.statistics.Summary;
import lumbrical.statistics.TInterval;
import lumbrical.threshold.ThresholdChoice;
import org.junit.jupiter.api.Test;

/**
 * An invented clinic of 240 episodes of 198 patients, as forms of an invented instrument, through the whole analysis of groups, against R
 * 4.2.2 (base): {@code expected_clinic240.csv}. Of its 318 values all are compared but those that no table holds: intermediate ones (standard
 * errors, degrees of freedom, the logistic line, the point-biserial correlation, Youden's index), how many patients the pairs are of,
 * and counts and means by each level of the anchor; its correlations with baseline and follow-up
 * stand, with two decimals, in a warning. These are compared in the tests of the
 * statistics.
 */
class ClinicReferenceTest {
    private static final Pattern IN_NO_TABLE =
            Pattern.compile(".*(clustered se CR1|patients paired|Welch df)|logit .*|point-biserial r|Youden J"
                    + "|anchor -?\\d .*|anchor spearman (baseline|month12)");

    private final Map<String, Double> ours = new HashMap<>();

    @Test
    void everyValueThatATableHoldsAgrees() throws IOException {
        read(true);
        read(false);
        readWithAPatientForEachEpisode();
        Set<String> missing = new TreeSet<>();
        int checked = 0;
        int notInATable = 0;
        for (Map<String, String> row : Reference.rows("expected_clinic240.csv")) {
            String quantity = row.get("quantity");
            if (ours.containsKey(quantity)) {
                Reference.assertClose(Double.parseDouble(row.get("value")), ours.get(quantity), 1e-9, quantity);
                checked++;
            } else if (IN_NO_TABLE.matcher(quantity).matches()) {
                notInATable++;
            } else {
                missing.add(quantity);
            }
        }
        assertEquals(Set.of(), missing);
        assertEquals(318, checked + notInATable);
        assertEquals(CHECKED, checked);
    }

    private static final int CHECKED = 282;

    static CohortClinic clinic() throws IOException {
        return clinic(false);
    }

    private static CohortClinic clinic(boolean aPatientForEachEpisode) throws IOException {
        CohortClinic clinic = new CohortClinic();
        for (Map<String, String> row : Reference.rows("in/clinic240.csv")) {
            String patient = row.get(aPatientForEachEpisode ? "episode" : "patient");
            String episode = row.get("episode");
            Side side = row.get("side").equals("left") ? Side.LEFT : Side.RIGHT;
            clinic.episode(patient, episode, side, b -> b.carried(Map.of("group", row.get("group"))));
            for (String visit : List.of("baseline", "month3", "month12")) {
                if (!row.get(visit).isEmpty()) {
                    clinic.line(patient, episode, visit, Double.parseDouble(row.get(visit)));
                }
            }
            if (!row.get("anchor").isEmpty()) {
                clinic.rating(patient, episode, "month12", Integer.parseInt(row.get("anchor")));
            }
        }
        return clinic;
    }

    /**
     * The percentiles of 40,000 resamples of another program (numpy, generator PCG64), within the chance of 2,000 resamples: five
     * standard deviations of a limit; thresholds come in steps of 0.25. Ours are of all patients of the group, theirs of those with both
     * scores and a rating, which the limits do not tell apart.
     */
    @Test
    void intervalsOfOwnMcidsAgreeWithAnotherProgram() throws IOException {
        List<OwnMcidRow> rows = clinic().analyse(request()).measurement().ownMcid().stream()
                .filter(r -> r.at().group().equals(CohortGroup.ALL))
                .toList();
        int checked = 0;
        for (Map<String, String> expected : Reference.rows("expected_bootstrap_clinic240.csv")) {
            Range interval = valueOf(rows.stream()
                    .filter(r -> r.method().code().equals(expected.get("method")))
                    .findFirst()
                    .orElseThrow()
                    .interval());
            double step = expected.get("method").startsWith("roc") ? 0.25 : 0;
            assertEquals(
                    Double.parseDouble(expected.get("low")),
                    interval.low(),
                    step + 5 * Double.parseDouble(expected.get("sd_low_2000")),
                    expected.get("method"));
            assertEquals(
                    Double.parseDouble(expected.get("high")),
                    interval.high(),
                    step + 5 * Double.parseDouble(expected.get("sd_high_2000")),
                    expected.get("method"));
            checked++;
        }
        assertEquals(7, checked);
    }

    static CohortRequest request() {
        return CohortRequest.builder()
                .by(List.of("group"))
                .compare(Optional.of(new CohortRequest.Compare("group", "A", "B")))
                .anchor(Optional.of("rating"))
                .build();
    }

    /** With the MCID of 10 used, or that of 20, which only the comparison needs. */
    private void read(boolean ten) throws IOException {
        CohortClinic clinic = clinic();
        if (!ten) {
            clinic.choice(ThresholdChoice.of(
                            List.of(new ThresholdChoice.Row("choice.csv row 2", "line", "total", "", "m20")),
                            clinic::find,
                            ConditionVocabulary.EMPTY)
                    .choice());
        }
        CohortResult result = clinic.analyse(request());
        if (ten) {
            result.standing().groups().stream()
                    .filter(r -> r.at().instrument().id().value().equals("line"))
                    .forEach(this::group);
            result.responders().forEach(this::responders);
            result.standing().attrition().forEach(this::attrition);
            result.measurement().ownMcid().stream()
                    .filter(r -> r.at().group().equals(CohortGroup.ALL))
                    .forEach(this::ownMcid);
        }
        result.compare().stream()
                .filter(r -> r.at().group().equals(CohortGroup.ALL))
                .forEach(this::compare);
    }

    /** Where no patient has two episodes, the intervals are those that take episodes as independent. */
    private void readWithAPatientForEachEpisode() throws IOException {
        CohortResult result = clinic(true).analyse(request());
        for (GroupRow row : result.standing().groups()) {
            row.improvement().ifPresent(i -> {
                assertFalse(i.clustered());
                put(
                        name(row.at()) + "improvement t ",
                        i.mean().map(TInterval::interval).optional());
            });
        }
        for (CompareRow row : result.compare()) {
            if (row.at().group().equals(CohortGroup.ALL)) {
                assertFalse(row.adjusted().clustered());
                put(
                        "A-B " + row.at().visit().orElseThrow().name() + " adjusted ",
                        row.adjusted().difference().interval().optional());
            }
        }
    }

    private static String name(RowPlace at) {
        return at.group().label() + " " + at.visit().orElseThrow().name() + " ";
    }

    private void group(GroupRow row) {
        if (row.improvement().isEmpty()) {
            return;
        }
        String name = name(row.at());
        ours.put(name + "episodes", (double) row.size().episodes());
        ours.put(name + "patients", (double) row.size().patients());
        ours.put(name + "scored", (double) row.size().scored());
        Summary scores = valueOf(row.scores());
        ours.put(name + "score mean", scores.quantiles().mean());
        ours.put(name + "score sd", valueOf(scores.sd()));
        ours.put(name + "score median", scores.quantiles().median());
        ours.put(name + "score q1 type 7", scores.quantiles().lowerQuartile());
        ours.put(name + "score q3 type 7", scores.quantiles().upperQuartile());
        ours.put(name + "best possible", (double) row.bestPossible());
        ours.put(name + "worst possible", (double) row.worstPossible());
        GroupRow.Improvement improvement = row.improvement().get();
        ours.put(name + "paired", (double) improvement.paired());
        Summary values = valueOf(improvement.values());
        ours.put(name + "improvement mean", values.quantiles().mean());
        assertEquals(values.quantiles().mean(), valueOf(improvement.mean()).estimate(), 1e-12);
        ours.put(name + "improvement sd", valueOf(values.sd()));
        ours.put(name + "median improvement", values.quantiles().median());
        assertTrue(improvement.clustered());
        put(
                name + "improvement clustered ",
                Optional.of(valueOf(improvement.mean()).interval()));
        ours.put(name + "ES", valueOf(improvement.effectSize()));
        ours.put(name + "SRM", valueOf(improvement.srm()));
        ours.put(name + "Hodges-Lehmann", valueOf(improvement.hodgesLehmann()));
    }

    private void put(String name, Optional<Range> limits) {
        ours.put(name + "low", limits.orElseThrow().low());
        ours.put(name + "high", limits.orElseThrow().high());
    }

    private static Optional<Range> share(Optional<Range> percent) {
        return percent.map(r -> new Range(r.low() / 100, r.high() / 100));
    }

    private void responders(ResponderRow row) {
        int mcid = (int) row.mcid().value().orElseThrow();
        assertEquals(mcid == 10, row.used());
        String name = name(row.at());
        String by = name + "improved by " + mcid;
        ours.put(by, (double) row.improved().count());
        put(by + " wilson ", share(row.improved().interval95()));
        ours.put(name + "worsened by " + mcid, (double) row.worsened());
        ours.put(name + "room below " + mcid, (double) row.couldNotReach());
        ours.put(name + "baseline known", (double) row.ifMissing().improved().of());
        ours.put(
                by + " missing counted as not, percent",
                row.ifMissing().notImproved().percent().orElseThrow());
        ours.put(
                by + " missing counted as improved, percent",
                row.ifMissing().improved().percent().orElseThrow());
    }

    private void attrition(AttritionRow row) {
        String name = name(row.at());
        ours.put(name + "baseline mean with follow-up", valueOf(row.with().mean()));
        ours.put(name + "baseline mean without", valueOf(row.without().mean()));
        ours.put(name + "standardised difference", valueOf(row.standardisedDifference()));
    }

    private void compare(CompareRow row) {
        String name = "A-B " + row.at().visit().orElseThrow().name() + " ";
        ours.put(
                name + "difference of mean improvement",
                valueOf(row.difference().value()));
        put(name + "Welch ", row.difference().interval().optional());
        ours.put(
                name + "adjusted for baseline",
                valueOf(row.adjusted().difference().value()));
        assertTrue(row.adjusted().clustered());
        put(name + "adjusted clustered ", row.adjusted().difference().interval().optional());
        ours.put(name + "probability A better", valueOf(row.probabilityABetter()));
        ours.put(name + "Hodges-Lehmann shift", valueOf(row.shift()));
        CompareRow.Responders responders = row.responders().orElseThrow();
        String by = name + "improved by " + (int) responders.mcid().value().orElseThrow() + " ";
        ours.put(by + "difference", responders.difference().orElseThrow() / 100);
        put(by + "Newcombe ", share(responders.interval95()));
    }

    private void ownMcid(OwnMcidRow row) {
        assertEquals("month12", row.at().visit().orElseThrow().name());
        ours.put("anchor n", (double) row.sample().n());
        ours.put("improved", (double) row.sample().improved());
        ours.put("anchor spearman improvement", valueOf(row.sample().correlation()));
        ours.put("AUC", valueOf(row.sample().auc()));
        double estimate = valueOf(row.estimate());
        Range interval = valueOf(row.interval());
        assertTrue(
                interval.low() <= estimate && estimate <= interval.high(),
                row.method().code());
        // R: 0.061031351655192 and -0.502191815897484
        assertTrue(
                row.warnings()
                        .contains(
                                "present-state bias: the anchor's correlation with the baseline is 0.06, with the follow-up"
                                        + " -0.50"),
                row.warnings().toString());
        Map<AnchorMethod, String> names = Map.of(
                AnchorMethod.MEAN_CHANGE, "mean change, anchor 1",
                AnchorMethod.MEAN_DIFFERENCE, "mean difference, anchor 1 - 0",
                AnchorMethod.ROC_YOUDEN, "Youden threshold, smallest of ties",
                AnchorMethod.ROC_CORNER, "closest to (0,1) threshold, smallest of ties",
                AnchorMethod.PREDICTIVE, "MIC predictive",
                AnchorMethod.PREDICTIVE_ADJUSTED, "MIC adjusted");
        Optional.ofNullable(names.get(row.method())).ifPresent(quantity -> ours.put(quantity, estimate));
    }
}
