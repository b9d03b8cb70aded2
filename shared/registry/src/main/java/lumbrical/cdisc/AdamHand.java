package lumbrical.cdisc;

import java.util.HashMap;
import java.util.Iterator;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.OptionalInt;
import java.util.Set;
import java.util.function.Consumer;
import lumbrical.change.ReachesMcid;
import lumbrical.change.Verdict;
import lumbrical.deidentify.DeidentifiedChange;
import lumbrical.deidentify.DeidentifiedDataset;
import lumbrical.deidentify.DeidentifiedEpisode;
import lumbrical.deidentify.DeidentifiedForm;
import lumbrical.deidentify.DeidentifiedScore;
import lumbrical.deidentify.Profile;
import lumbrical.followup.AssignedScore;
import lumbrical.instrument.ChangeRule;
import lumbrical.instrument.Direction;
import lumbrical.instrument.MissingRule;
import lumbrical.instrument.Scale;
import lumbrical.instrument.Threshold;
import lumbrical.number.Numbers;
import lumbrical.scoring.Reason;
import lumbrical.scoring.ScoreResult;

/**
 * The Basic Data Structure {@code ADHAND}: a record per subject, episode, parameter and sitting, with baseline, change, window and
 * responder criterion. {@code CHG = AVAL - BASE}; {@code PCHG = 100 x CHG / BASE}, missing where BASE is 0; both missing on the baseline
 * record (so the public CDISC pilot data have it). {@code AWTDIFF} is the distance
 * from the target, in days counted through the index date although study days have no 0, or in whole weeks where weeks are sent.
 */
final class AdamHand {
    private final DeidentifiedDataset shipment;
    /** By parameter, the texts of its criterion; with one text the flag is Y or N, with several Y or missing (ADaM flag rules). */
    private final Map<String, Set<String>> criteria = new HashMap<>();

    private final Map<String, Integer> parameters = new HashMap<>();

    private final TestNames.Book names = new TestNames.Book();

    private final boolean weeks;

    AdamHand(DeidentifiedDataset shipment) {
        this.shipment = shipment;
        this.weeks = shipment.profile().dates() == Profile.Dates.WEEKS_FROM_INDEX;
    }

    static final List<Variable> VARIABLES = List.of(
            Variable.text("STUDYID", "Study Identifier", "ADSL.STUDYID")
                    .predecessor()
                    .key(1),
            Variable.text("USUBJID", "Unique Subject Identifier", "ADSL.USUBJID")
                    .predecessor()
                    .key(2),
            Variable.text("EPISODID", "Episode Identifier", "pseudonym of the episode; ours")
                    .key(3),
            Variable.integer("ASEQ", "Analysis Sequence Number", "number within the subject")
                    .derived(),
            Variable.text("AVISIT", "Analysis Visit", "QS.VISIT")
                    .terms(Terms.USED)
                    .predecessor(),
            Variable.number("AVISITN", "Analysis Visit (N)", "QS.VISITNUM").predecessor(),
            Variable.integer("ADY", "Analysis Relative Day", "from the index date of the episode, which is day 1")
                    .derived(),
            Variable.of("ADT", "Analysis Date", Variable.Type.DATE, "the shifted date")
                    .derived(),
            Variable.integer("AWEEK", "Analysis Relative Week", "whole weeks from the index date; ours")
                    .derived(),
            Variable.text("PARAM", "Parameter", "instrument, scale, and hand where asked of each")
                    .terms(Terms.USED),
            Variable.text("PARAMCD", "Parameter Code", "short code of the instrument, T and number")
                    .terms(Terms.usedAs("PARAM"))
                    .key(4),
            Variable.integer("PARAMN", "Parameter (N)", "number, one to one with PARAMCD")
                    .derived(),
            Variable.text("PARCAT1", "Parameter Category 1", "definition and version")
                    .terms(Terms.USED),
            Variable.number("AVAL", "Analysis Value", "the score by the instrument's manual")
                    .derived(),
            Variable.number("BASE", "Baseline Value", "AVAL of the record with ABLFL of the same PARAMCD and BASETYPE")
                    .derived(),
            Variable.text("BASETYPE", "Baseline Type", "the episode, each of which has a baseline of its own")
                    .derived(),
            Variable.number("CHG", "Change from Baseline", "AVAL - BASE; missing on the baseline record")
                    .derived(),
            Variable.number("PCHG", "Percent Change from Baseline", "100 x CHG / BASE; missing where BASE is 0")
                    .derived(),
            Variable.text("ABLFL", "Baseline Record Flag", "Y on one record per subject, PARAMCD and BASETYPE")
                    .derived()
                    .terms(Terms.YES_ONLY),
            Variable.text("ANL01FL", "Analysis Flag 01", "Y on the one record to use in a window")
                    .derived()
                    .terms(Terms.YES_ONLY),
            Variable.text("DTYPE", "Derivation Type", "the missing-item rule by which the score was made; terms ours")
                    .derived()
                    .terms(Terms.USED),
            Variable.text("AWRANGE", "Analysis Window Valid Relative Range", "schedule, in AWU")
                    .protocol(),
            Variable.integer("AWTARGET", "Analysis Window Target", "schedule, in AWU")
                    .protocol(),
            Variable.integer(
                            "AWTDIFF",
                            "Analysis Window Diff from Target",
                            "days, or whole weeks, between the record and the target, never negative")
                    .derived(),
            Variable.integer("AWLO", "Analysis Window Beginning Timepoint", "schedule, in AWU")
                    .protocol(),
            Variable.integer("AWHI", "Analysis Window Ending Timepoint", "schedule, in AWU")
                    .protocol(),
            Variable.text("AWU", "Analysis Window Unit", "DAYS, as study days without a day 0, or WEEKS, as AWEEK")
                    .terms(Terms.USED),
            Variable.text("CRIT1", "Analysis Criterion 1", "change of at least the MCID, with its source")
                    .derived()
                    .terms(Terms.USED),
            Variable.text("CRIT1FL", "Criterion 1 Evaluation Result Flag", "Y or N; missing without a change")
                    .derived()
                    .terms(Terms.YES_NO),
            Variable.text("SRCDOM", "Source Data", "QS; missing where DTYPE tells that no record of QS holds the score")
                    .terms(Terms.USED),
            Variable.text("SRCVAR", "Source Variable", "QSSTRESN; missing where SRCDOM is")
                    .terms(Terms.USED),
            Variable.integer("SRCSEQ", "Source Sequence Number", "QSSEQ of the score in QS; missing where SRCDOM is")
                    .derived(),
            Variable.text("SRCID", "Source Form Identifier", "key of the form: QSGRPID of QS; ours")
                    .key(5),
            Variable.text("HANDSIDE", "Hand or Side Asked About", "RIGHT, LEFT or BOTH; ours")
                    .terms(Terms.USED),
            Variable.text("OUTCOME", "Scoring Outcome", "complete, with-missing or not-scored; ours")
                    .derived()
                    .terms(Terms.USED),
            Variable.text("AVALREAS", "Reason for No Score", "code; ours")
                    .derived()
                    .terms(Terms.USED),
            Variable.number("AVALLOW", "Lowest Score under Any Open Answers", "ours")
                    .derived(),
            Variable.number("AVALHIGH", "Highest Score under Any Open Answers", "ours")
                    .derived(),
            Variable.text("VERDICT", "Verdict on the Change", "code; worsening mirrors improvement: ours")
                    .derived()
                    .terms(Terms.USED));

    Dataset dataset() {
        shipment.contents().forEach(this::look);
        numberParameters();
        return Dataset.ofEpisodes(
                "ADHAND",
                "Hand and Wrist PRO Analysis Dataset",
                Dataset.Form.BASIC_DATA_STRUCTURE,
                VARIABLES,
                this::each);
    }

    /** Criteria and parameters, which must be known before the first record is written. */
    private void look(DeidentifiedEpisode episode) {
        for (DeidentifiedForm form : episode.forms()) {
            for (DeidentifiedScore score : form.scores()) {
                String code = test(form, score).code();
                parameters.putIfAbsent(code, 0);
                score.change()
                        .flatMap(change -> criterion(form, score, change))
                        .ifPresent(text -> criteria.computeIfAbsent(code, c -> new LinkedHashSet<>())
                                .add(text));
            }
        }
    }

    private void numberParameters() {
        int number = 0;
        for (String code : parameters.keySet().stream().sorted().toList()) {
            parameters.put(code, ++number);
        }
    }

    private TestNames.Test test(DeidentifiedForm form, DeidentifiedScore score) {
        return names.of(form.instrument()).scale(score.scale(), score.result().hand());
    }

    private Dataset.EpisodeTaker each(Consumer<Dataset.Row> taker, Map<String, Integer> positions) {
        String[] subject = {""};
        int[] sequence = {0};
        QsSequence source = new QsSequence();
        VisitNumbers numbers = new VisitNumbers(shipment.schedule());
        Map<String, Baseline> baselines = new HashMap<>();
        return episode -> {
            baselines.clear();
            sequence[0] = episode.subject().equals(subject[0]) ? sequence[0] : 0;
            subject[0] = episode.subject();
            source.startOf(episode);
            Iterator<VisitNumbers.Numbered> visits = numbers.of(episode).iterator();
            for (DeidentifiedForm form : episode.forms()) {
                VisitNumbers.Numbered visit = visits.next();
                source.passItems(form);
                for (DeidentifiedScore score : form.scores()) {
                    sequence[0]++;
                    Dataset.Row record = record(episode, form, score, sequence[0], positions, baselines)
                            .set("AVISIT", visit.name())
                            .set("AVISITN", visit.number());
                    source(score, source.ofScore(score), record);
                    taker.accept(record);
                }
            }
        };
    }

    /** The record of QS that holds the score, or the rule by which it was made here. */
    private static void source(DeidentifiedScore score, OptionalInt number, Dataset.Row record) {
        if (number.isPresent()) {
            record.set("SRCDOM", "QS").set("SRCVAR", "QSSTRESN").set("SRCSEQ", number.getAsInt());
        } else {
            record.set("DTYPE", derivation(score.scale()));
        }
    }

    /** The missing-item rule of a scale in a few words, ours. */
    private static String derivation(Scale scale) {
        return scale.composition()
                .fromItems()
                .map(made -> made.missing().fold(new MissingRule.Kinds<String>() {
                    @Override
                    public String noneAllowed(MissingRule.NoneAllowed rule) {
                        return "ALL ITEMS NEEDED";
                    }

                    @Override
                    public String meanOfAnswered(MissingRule.MeanOfAnswered rule) {
                        return "MEAN OF ANSWERED ITEMS";
                    }

                    @Override
                    public String ratedOnly(MissingRule.RatedOnly rule) {
                        return "RATED ITEMS ONLY";
                    }
                }))
                .orElse("PARTS WITH MISSING ITEMS");
    }

    private Dataset.Row record(
            DeidentifiedEpisode episode,
            DeidentifiedForm form,
            DeidentifiedScore score,
            int sequence,
            Map<String, Integer> positions,
            Map<String, Baseline> baselines) {
        TestNames.Test test = test(form, score);
        Dataset.Row record = new Dataset.Row(positions)
                .set("STUDYID", shipment.sender().study())
                .set("USUBJID", CdiscFiles.subject(shipment, episode))
                .set("EPISODID", episode.id())
                .set("BASETYPE", "EPISODE " + episode.id())
                .set("ASEQ", sequence)
                .set("PARAM", test.parameter())
                .set("PARAMCD", test.code())
                .set("PARAMN", parameters.get(test.code()))
                .set("PARCAT1", names.of(form.instrument()).category())
                .set("SRCID", form.key())
                .set("OUTCOME", score.result().outcome().code());
        form.day().shifted().ifPresent(date -> record.set("ADT", date.toString()));
        score.side(form).ifPresent(side -> record.set("HANDSIDE", side.code().toUpperCase(Locale.ROOT)));
        score.result().reason().map(Reason::code).ifPresent(reason -> record.set("AVALREAS", reason));
        score.result().bounds().ifPresent(b -> record.set("AVALLOW", b.low()).set("AVALHIGH", b.high()));
        window(form, record);
        values(form, score, test.code(), record, baselines);
        return record;
    }

    private void window(DeidentifiedForm form, Dataset.Row record) {
        OptionalInt day = form.day().day();
        OptionalInt week = form.day().week();
        StudyDay.of(day).ifPresent(d -> record.set("ADY", d));
        week.ifPresent(w -> record.set("AWEEK", w));
        form.visit().ifPresent(visit -> {
            int from = time(visit.fromDay());
            int to = time(visit.toDay());
            record.set("AWRANGE", from + " to " + to)
                    .set("AWTARGET", time(visit.targetDay()))
                    .set("AWLO", from)
                    .set("AWHI", to)
                    .set("AWU", weeks ? "WEEKS" : "DAYS");
            day.ifPresent(d -> record.set("AWTDIFF", Math.abs(d - visit.targetDay())));
            week.ifPresent(w -> record.set("AWTDIFF", Math.abs(w - StudyDay.week(visit.targetDay()))));
        });
    }

    /** A day of the schedule as it is sent: its study day, or whole weeks. */
    private int time(int daysFromIndex) {
        return weeks ? StudyDay.week(daysFromIndex) : StudyDay.of(daysFromIndex);
    }

    /**
     * The baseline record of a parameter in an episode.
     *
     * @param definition definition and version of the form that gave it: two versions make no change
     */
    private record Baseline(OptionalDouble value, String definition) {}

    /** @param baselines by parameter, those of the episode's records so far; forms come by time */
    private void values(
            DeidentifiedForm form,
            DeidentifiedScore score,
            String code,
            Dataset.Row record,
            Map<String, Baseline> baselines) {
        OptionalDouble value = score.result()
                .scored()
                .map(ScoreResult.Scored::value)
                .map(OptionalDouble::of)
                .orElse(OptionalDouble.empty());
        record.set("AVAL", value);
        if (score.use() == AssignedScore.Use.BASELINE) {
            record.set("ABLFL", "Y").set("BASE", value);
            baselines.put(code, new Baseline(value, form.instrument().definition()));
        }
        if (score.use() != AssignedScore.Use.NOT_USED) {
            record.set("ANL01FL", "Y");
        }
        if (score.change().isPresent()) {
            change(form, score, score.change().get(), value, code, record);
        } else if (score.use() != AssignedScore.Use.BASELINE) {
            Optional.ofNullable(baselines.get(code))
                    .ifPresent(baseline -> afterBaseline(form, baseline, value, record));
        }
    }

    /** A record after the baseline that is not judged, such as one outside every window: its values stand, without a criterion. */
    private static void afterBaseline(
            DeidentifiedForm form, Baseline baseline, OptionalDouble value, Dataset.Row record) {
        ChangeRule.Kind kind = form.instrument().facts().change().kind();
        if (kind == ChangeRule.Kind.PAIRED_ITEMS
                || !form.instrument().definition().equals(baseline.definition())) {
            return;
        }
        record.set("BASE", baseline.value());
        if (kind != ChangeRule.Kind.NONE) { // itself a rating of change
            difference(value, baseline.value(), record);
        }
    }

    private static void difference(OptionalDouble value, OptionalDouble baseline, Dataset.Row record) {
        if (value.isEmpty() || baseline.isEmpty()) {
            return;
        }
        double base = baseline.getAsDouble();
        double chg = value.getAsDouble() - base;
        record.set("CHG", chg);
        if (Double.compare(base + 0.0, 0.0) != 0) {
            record.set("PCHG", 100 * chg / base);
        }
    }

    private void change(
            DeidentifiedForm form,
            DeidentifiedScore score,
            DeidentifiedChange change,
            OptionalDouble value,
            String code,
            Dataset.Row record) {
        record.set("VERDICT", change.change().verdict().code());
        if (form.instrument().facts().change().kind() == ChangeRule.Kind.PAIRED_ITEMS) {
            return; // its change is over the items rated at both sittings, so it is not AVAL - BASE
        }
        record.set("BASE", change.change().baseline());
        if (value.isEmpty() || change.change().baseline().isEmpty()) {
            return;
        }
        difference(value, change.change().baseline(), record);
        criterion(form, score, change)
                .filter(c -> change.change().verdict() != Verdict.NOT_ASSESSABLE)
                .ifPresent(text -> {
                    boolean met = change.change().reachesMcid().equals(Optional.of(ReachesMcid.IMPROVED));
                    boolean oneText = criteria.get(code).size() == 1;
                    if (met || oneText) {
                        record.set("CRIT1", text).set("CRIT1FL", met ? "Y" : "N");
                    }
                });
    }

    /** Such as {@code CHG <= -15.91 (MCID id; population; standing)}. */
    private static Optional<String> criterion(
            DeidentifiedForm form, DeidentifiedScore score, DeidentifiedChange change) {
        return change.change()
                .thresholds()
                .mcid()
                .filter(t -> t.value().isPresent())
                .map(t -> "CHG "
                        + (score.scale().better() == Direction.LOWER
                                ? "<= " + Numbers.format(-t.value().getAsDouble())
                                : ">= " + Numbers.format(t.value().getAsDouble()))
                        + " (MCID " + t.id() + source(t) + ")")
                .map(text -> CdiscNames.limited(text, CdiscNames.LONGEST_TEXT));
    }

    private static String source(Threshold threshold) {
        return "; " + threshold.population() + "; "
                + threshold.provenance().standing().code();
    }
}
