package lumbrical.cohort;

import java.util.ArrayList;
import java.util.Comparator;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Set;
import java.util.TreeMap;
import java.util.TreeSet;
import java.util.stream.Collectors;
import java.util.stream.IntStream;
import java.util.stream.Stream;
import lumbrical.followup.Visit;
import lumbrical.instrument.Composition;
import lumbrical.instrument.Instrument;
import lumbrical.instrument.MissingRule;
import lumbrical.instrument.Provenance;
import lumbrical.instrument.Scale;
import lumbrical.instrument.Source;
import lumbrical.instrument.Threshold;
import lumbrical.number.Numbers;

/** Says what was done, in paragraphs fit for a methods section. */
final class Methods {
    /** Places named of each kind of blank; the table of blanks has all. */
    private static final int NAMED = 1;

    private final ClinicData data;
    private final CohortRequest request;
    private final List<Groups.Group> groups;
    private final CohortRows rows;
    private final List<Blank> blanks;

    Methods(ClinicData data, List<Groups.Group> groups, CohortRows rows, Stream<Blank> blanks) {
        this.data = data;
        this.request = data.request();
        this.groups = groups;
        this.rows = rows;
        this.blanks = blanks.toList();
    }

    List<String> paragraphs() {
        List<String> all = new ArrayList<>();
        all.add(unit());
        all.add(visits());
        all.add(instruments());
        all.add(thresholds());
        all.add(statistics());
        all.add(missing());
        request.compare().ifPresent(c -> all.add(comparison(c)));
        request.anchor().ifPresent(a -> all.add(anchor(a)));
        all.add(reliability());
        all.add("No percentage is given of fewer than " + request.smallestGroup()
                + " episodes, nor its limits, nor a row of their cumulative distribution; counts are.");
        all.add(notEstimable());
        all.add(
                "Items of CONSORT-PRO (Calvert et al. 2013, JAMA 309:814-822, doi:10.1001/jama.2013.879) are named beside the"
                        + " columns that hold them.");
        all.add(
                "Groups that were not randomised differ in more than their treatment: a difference between them is no effect of"
                        + " the treatment. Thresholds hold for the population they came from. An MCID is read from the mean of a group"
                        + " and is no cut-off for a person. Scores support and never replace clinical judgement.");
        return all;
    }

    private String unit() {
        int patients = groups.get(0).patients();
        String by = request.by().isEmpty()
                ? ""
                : ", and by "
                        + groups.stream()
                                .map(g -> g.label().by())
                                .distinct()
                                .filter(name -> !name.equals(CohortGroup.ALL.by()))
                                .collect(Collectors.joining(", and by "));
        return "The unit is the episode, one treatment of one side: "
                + data.episodes().size() + " episodes, as of "
                + data.asOf() + ". Results are given of all together" + by + ". "
                + (request.oneEpisodeEach()
                        ? "Of each patient only the episode with the earliest index date within a group was taken ("
                                + patients + " episodes in all)."
                        : "Where a patient has several episodes among those of a group, the intervals of the mean improvement and"
                                + " of the adjusted difference allow for it; all other intervals take episodes as independent.");
    }

    private String visits() {
        return "A score counts for the visit in whose window it lies, in days from the index date: "
                + IntStream.range(0, data.visits().size())
                        .mapToObj(data.visits()::get)
                        .map(Methods::window)
                        .collect(Collectors.joining("; "))
                + ". The baseline is the last scorable sitting in its window; at a follow-up visit the scorable sitting nearest"
                + " the target day counts, of two equally near the earlier. Scores of two versions of a definition are never"
                + " one change.";
    }

    private static String window(Visit visit) {
        return visit.name() + " " + visit.fromDay() + " to " + visit.toDay() + " (target " + visit.targetDay() + ")";
    }

    private String instruments() {
        Map<String, List<String>> scales = new LinkedHashMap<>();
        for (ScaleTable table : data.tables()) {
            Set<String> versions =
                    table.scores().definitions(table.of(groups.get(0).members()));
            versions.add(table.instrument().definition());
            scales.computeIfAbsent(
                            String.join(", ", versions) + " ("
                                    + table.instrument().facts().title() + ")",
                            k -> new ArrayList<>())
                    .add(scale(table.instrument(), table.scale()));
        }
        return scales.isEmpty()
                ? "No form was read."
                : "Instruments, by definition and version: "
                        + scales.entrySet().stream()
                                .map(e -> e.getKey() + ": " + String.join("; ", e.getValue()))
                                .collect(Collectors.joining(". "))
                        + ".";
    }

    private static String scale(Instrument instrument, Scale scale) {
        return scale.id() + ", " + Numbers.format(scale.range().low()) + " to "
                + Numbers.format(scale.range().high()) + ", " + scale.better().code() + " is better, "
                + scale.composition()
                        .fold(
                                made -> missingRule(instrument, made),
                                made -> "made of "
                                        + made.parts().stream()
                                                .map(p -> p.scale().value())
                                                .collect(Collectors.joining(", ")));
    }

    private static String missingRule(Instrument instrument, Composition.FromItems made) {
        int k = made.items().size();
        String rule = made.missing().fold(new MissingRule.Kinds<String>() {
            @Override
            public String noneAllowed(MissingRule.NoneAllowed none) {
                return "all of " + k + " needed";
            }

            @Override
            public String meanOfAnswered(MissingRule.MeanOfAnswered mean) {
                return mean.minimum().required(k) + " of " + k + " needed, their mean standing in for the others";
            }

            @Override
            public String ratedOnly(MissingRule.RatedOnly rated) {
                return "items not rated do not count, " + rated.minimum().required(k) + " of " + k + " needed";
            }
        });
        return "items: " + rule + " (" + cite(instrument, made.missing().provenance()) + ")";
    }

    private static String cite(Instrument instrument, Provenance provenance) {
        return provenance.standing().code()
                + instrument
                        .source(provenance.source())
                        .map(Source::inOneLine)
                        .map(s -> ", " + s)
                        .orElse("");
    }

    private String thresholds() {
        List<String> used = new ArrayList<>();
        for (ScaleTable table : data.tables()) {
            Map<Threshold, Set<String>> byCondition = new LinkedHashMap<>();
            table.mcids()
                    .forEach((condition, mcid) -> mcid.ifPresent(t -> byCondition
                            .computeIfAbsent(t, k -> new TreeSet<>())
                            .add(condition.label().orElse("no condition stated"))));
            table.scores()
                    .mdcs(table.of(groups.get(0).members()))
                    .forEach(t -> byCondition.computeIfAbsent(t, k -> new TreeSet<>()));
            byCondition.entrySet().stream()
                    .sorted(Comparator.comparing(e -> e.getKey().id()))
                    .forEach(e -> used.add(
                            table.instrument().id() + " " + table.scale().id() + " "
                                    + threshold(table.instrument(), e.getKey())
                                    + (e.getValue().isEmpty() ? "" : " for " + String.join(", ", e.getValue()))));
            if (table.changes() && table.mcids().values().stream().allMatch(m -> m.isEmpty())) {
                used.add(table.instrument().id() + " " + table.scale().id() + " has no MCID that could be used");
            }
        }
        return "An improvement is positive when the patient is better, whichever way the scale runs. It counts as improved if it is"
                + " at least the MCID, as worsened if it is as much the other way (a convention of ours), from unrounded"
                + " scores; equal counts. It is beyond error if its size is at least the MDC. A group that mixes conditions is"
                + " never held against one MCID: each episode's own is used. Every other published MCID of hand, wrist or"
                + " upper limb that is bound to no other condition is given beside it. Thresholds used: "
                + (used.isEmpty() ? "none" : String.join("; ", used)) + ".";
    }

    private static String threshold(Instrument instrument, Threshold t) {
        return t.kind().code().toUpperCase(Locale.ROOT) + " "
                + Numbers.format(t.value().orElse(0)) + " (" + t.id() + "; " + t.population()
                + (t.n().isPresent() ? "; n " + t.n().getAsInt() : "")
                + "; " + t.method() + "; " + cite(instrument, t.provenance())
                + (t.otherPopulation() ? "; of another population" : "") + ")";
    }

    private String statistics() {
        boolean clustered = rows.groups.stream()
                .anyMatch(r ->
                        r.improvement().filter(GroupRow.Improvement::clustered).isPresent());
        return "Standard deviations have n - 1; quartiles interpolate between order statistics (type 7 of Hyndman and Fan 1996)."
                + " The mean improvement has a 95 % interval from Student's t"
                + (clustered
                        ? ", or, where a patient has several of the episodes, from a variance robust to patients as clusters (CR1;"
                                + " Liang and Zeger 1986; Cameron and Miller 2015) with t on patients - 1 degrees of freedom"
                        : "")
                + ". Hodges and Lehmann's median (1963) is over all averages of two improvements. The effect size is the mean improvement"
                + " over the SD of the baseline scores of the same episodes (Kazis 1989), the standardised response mean over"
                + " the SD of the improvements (Liang 1990). Percentages have Wilson's interval (Newcombe 1998), which takes"
                + " episodes as independent.";
    }

    private static String missing() {
        return "Missing follow-up: a percentage improved is of the episodes with both scores. Beside it stands what it would be of"
                + " all episodes with a baseline score, had nobody without a follow-up score improved, or everybody. Baseline"
                + " scores of those with and without a score at a visit are compared by their standardised difference"
                + " (without minus with, over the pooled SD), for episodes whose window is over or has a score and that were"
                + " not closed before it. No score was imputed beyond the instruments' own rules for unanswered items.";
    }

    private String comparison(CohortRequest.Compare compare) {
        return "Compared were the episodes whose " + compare.column() + " is '" + compare.a() + "' (A) with '"
                + compare.b()
                + "' (B), always A minus B: means with Welch's interval (1947); at equal baseline by a linear model of improvement on"
                + " baseline score and group"
                + (rows.compare.stream().anyMatch(r -> r.adjusted().clustered())
                        ? ", its interval robust to patients as clusters (CR1) where a patient has several of the episodes"
                        : "")
                + "; the probability that an episode of A improves more than one of B (Mann and Whitney 1947, ties one half); the"
                + " median of all differences (Hodges and Lehmann 1963); and the percentages improved with Newcombe's interval"
                + " (1998, method 10). Welch's and Newcombe's intervals take episodes as independent.";
    }

    private String anchor(String anchor) {
        if (rows.ownMcid.isEmpty()) {
            return "The data's own MCIDs were asked for, but no score with a baseline has a rating of change " + anchor
                    + " of the same sitting: there are none.";
        }
        return "The data's own MCIDs were read from the rating of change " + anchor
                + " of the same sitting by seven methods (improved = one step up or more): the mean improvement of those at the first"
                + " step up (Terluin et al. 2021, doi:10.1007/s11136-021-02886-2); that minus the mean of the unchanged; the"
                + " mid-point between improvements with the largest sensitivity + specificity - 1 (Youden 1950), and the one"
                + " nearest to the corner of sensitivity and specificity 1, of several as good the smallest"
                + " (doi:10.1186/s12874-022-01600-1); predictive modelling (Terluin et al. 2015,"
                + " doi:10.1016/j.jclinepi.2015.03.015) and its adjusted form (Terluin et al. 2017,"
                + " doi:10.1016/j.jclinepi.2016.12.015; both formulas second-hand); and the mean of the unchanged plus 1.645 of"
                + " their SD (after de Vet; from memory). Their intervals are percentiles of "
                + request.resamples() + " resamples of the group's patients, each with all episodes (seed "
                + request.seed()
                + "). They depend on the method, hold for these patients and this rating, and were not used as a threshold."
                + " Warned of are fewer than 50 cases, a correlation with the rating under 0.30 (Revicki et al. 2008; from"
                + " memory), a share improved outside 0.3 to 0.7 (from memory), and correlations of the rating with baseline"
                + " and follow-up that differ by more than 0.2 in size (a convention of ours: ratings may follow the present"
                + " state).";
    }

    private String reliability() {
        return "Consistency of items: Cronbach's alpha of complete forms at each visit, with Feldt's limits (1965), alpha without each item,"
                + " and each item's correlation with the sum of the others."
                + (request.retestDays().isPresent()
                        ? " Agreement: of each patient and side the first two sittings of an episode at most "
                                + request.retestDays().getAsInt()
                                + " days apart that both lie before treatment (its day included)"
                                + (request.anchor().isPresent()
                                        ? ", or of whose second the rating of change is 'unchanged'"
                                        : "")
                                + "; ICC(2,1) (Shrout and Fleiss 1979), the standard error of measurement for agreement and"
                                + " for consistency, the MDC at 90 % and 95 % from that for agreement, and Bland and Altman's limits"
                                + " of agreement (1986)."
                        : "");
    }

    private String notEstimable() {
        Map<String, List<Blank>> byKind = new TreeMap<>();
        blanks.forEach(b -> byKind.computeIfAbsent(
                        b.table() + ", " + b.quantity() + ": " + b.reason().explanation(), k -> new ArrayList<>())
                .add(b));
        if (byKind.isEmpty()) {
            return "Every value could be estimated.";
        }
        return "Blank because it cannot be estimated: "
                + byKind.entrySet().stream()
                        .map(e -> e.getKey() + " (" + e.getValue().size()
                                + (e.getValue().size() == 1 ? " row: " : " rows: ")
                                + e.getValue().stream()
                                        .limit(NAMED)
                                        .map(b -> b.at().inWords())
                                        .collect(Collectors.joining("; "))
                                + (e.getValue().size() > NAMED ? "; ..." : "") + ")")
                        .collect(Collectors.joining(". "))
                + ".";
    }
}
