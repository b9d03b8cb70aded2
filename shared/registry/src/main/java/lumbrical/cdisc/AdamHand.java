package lumbrical.cdisc;

import java.util.ArrayList;
import java.util.HashMap;
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
import lumbrical.followup.Visit;
import lumbrical.followup.VisitAssignment;
import lumbrical.instrument.ChangeRule;
import lumbrical.instrument.Direction;
import lumbrical.instrument.Threshold;
import lumbrical.number.Numbers;
import lumbrical.scoring.Reason;
import lumbrical.scoring.ScoreResult;

/**
 * The Basic Data Structure {@code ADHAND}: a record per subject, episode, parameter and sitting, with baseline, change, window and
 * responder criterion. {@code CHG = AVAL - BASE}; {@code PCHG = 100 x CHG / BASE}, missing where BASE is 0; both missing on the baseline
 * record (so the public CDISC pilot data have it). {@code AWTDIFF = |ADY - AWTARGET|}.
 */
final class AdamHand {
    private final DeidentifiedDataset shipment;
    private final List<Variable> variables;
    /** By parameter, the texts of its criterion; with one text the flag is Y or N, with several Y or missing (ADaM flag rules). */
    private final Map<String, Set<String>> criteria = new HashMap<>();

    private final Map<String, Integer> parameters = new HashMap<>();

    AdamHand(DeidentifiedDataset shipment) {
        this.shipment = shipment;
        this.variables = variables(shipment.profile().dates() == Profile.Dates.SHIFTED);
    }

    private static List<Variable> variables(boolean dates) {
        List<Variable> v = new ArrayList<>(List.of(
                Variable.text("STUDYID", "Study Identifier", "study or profile: study")
                        .key(1),
                Variable.text("USUBJID", "Unique Subject Identifier", "study, site and pseudonym of the patient")
                        .key(2),
                Variable.text("EPISODID", "Episode Identifier", "pseudonym of the episode; ours")
                        .key(3),
                Variable.integer("ASEQ", "Analysis Sequence Number", "number within the subject"),
                Variable.text("PARAM", "Parameter", "scale, and hand where asked of each"),
                Variable.text("PARAMCD", "Parameter Code", "short code of the instrument, T and number")
                        .key(4),
                Variable.integer("PARAMN", "Parameter (N)", "number, one to one with PARAMCD"),
                Variable.text("PARCAT1", "Parameter Category 1", "definition and version")));
        if (dates) {
            v.add(new Variable("ADT", "Analysis Date", Variable.Type.DATE, 0, "the shifted date"));
        }
        v.addAll(List.of(
                Variable.integer("ADY", "Analysis Relative Day", "from the index date of the episode, which is day 1")
                        .key(5),
                Variable.text("SRCID", "Source Form Identifier", "key of the form: QSGRPID of QS; ours")
                        .key(6),
                Variable.text("AVISIT", "Analysis Visit", "schedule"),
                Variable.integer("AVISITN", "Analysis Visit (N)", "number in the schedule, from 1"),
                Variable.number("AVAL", "Analysis Value", "the score by the instrument's manual"),
                Variable.number("BASE", "Baseline Value", "AVAL of the baseline record"),
                Variable.number("CHG", "Change from Baseline", "AVAL - BASE; missing on the baseline record"),
                Variable.number("PCHG", "Percent Change from Baseline", "100 x CHG / BASE; missing where BASE is 0"),
                Variable.text("ABLFL", "Baseline Record Flag", "Y on the baseline record"),
                Variable.text("ANL01FL", "Analysis Flag 01", "Y on the one record to use in a window"),
                Variable.text("AWRANGE", "Analysis Window Valid Relative Range", "schedule, in study days"),
                Variable.integer("AWTARGET", "Analysis Window Target", "schedule, in study days"),
                Variable.integer("AWTDIFF", "Analysis Window Diff from Target", "|ADY - AWTARGET|"),
                Variable.integer("AWLO", "Analysis Window Beginning Timepoint", "schedule, in study days"),
                Variable.integer("AWHI", "Analysis Window Ending Timepoint", "schedule, in study days"),
                Variable.text("AWU", "Analysis Window Unit", "DAYS"),
                Variable.text("CRIT1", "Analysis Criterion 1", "change of at least the MCID, with its source"),
                Variable.text("CRIT1FL", "Criterion 1 Evaluation Result Flag", "Y or N; missing without a change"),
                Variable.text("HANDSIDE", "Hand or Side Asked About", "RIGHT, LEFT or BOTH; ours"),
                Variable.text("OUTCOME", "Scoring Outcome", "complete, with-missing or not-scored; ours"),
                Variable.text("AVALREAS", "Reason for No Score", "code; ours"),
                Variable.number("AVALLOW", "Lowest Score under Any Open Answers", "ours"),
                Variable.number("AVALHIGH", "Highest Score under Any Open Answers", "ours"),
                Variable.text("VERDICT", "Verdict on the Change", "code; worsening mirrors improvement: ours")));
        return List.copyOf(v);
    }

    Dataset dataset() {
        Dataset dataset = new Dataset("ADHAND", "Hand and Wrist PRO Analysis Dataset", variables, taker -> {});
        Map<String, Integer> positions = dataset.positions();
        shipment.contents().forEach(this::look);
        return new Dataset(dataset.name(), dataset.label(), variables, taker -> each(taker, positions));
    }

    /** Criteria and parameters, which must be known before the first record is written. */
    private void look(DeidentifiedEpisode episode) {
        for (DeidentifiedForm form : episode.forms()) {
            for (DeidentifiedScore score : form.scores()) {
                String code = code(form, score);
                parameters.putIfAbsent(code, 0);
                score.change()
                        .flatMap(change -> criterion(form, score, change))
                        .ifPresent(text -> criteria.computeIfAbsent(code, c -> new LinkedHashSet<>())
                                .add(text));
            }
        }
        int number = 0;
        for (String code : parameters.keySet().stream().sorted().toList()) {
            parameters.put(code, ++number);
        }
    }

    private static String code(DeidentifiedForm form, DeidentifiedScore score) {
        return CdiscNames.scaleCode(
                form.instrument(), score.scale(), score.result().hand());
    }

    private void each(Consumer<Dataset.Row> taker, Map<String, Integer> positions) {
        String[] subject = {""};
        int[] sequence = {0};
        shipment.contents().forEach(episode -> {
            sequence[0] = episode.subject().equals(subject[0]) ? sequence[0] : 0;
            subject[0] = episode.subject();
            for (DeidentifiedForm form : episode.forms()) {
                for (DeidentifiedScore score : form.scores()) {
                    sequence[0]++;
                    taker.accept(record(episode, form, score, sequence[0], positions));
                }
            }
        });
    }

    private Dataset.Row record(
            DeidentifiedEpisode episode,
            DeidentifiedForm form,
            DeidentifiedScore score,
            int sequence,
            Map<String, Integer> positions) {
        String code = code(form, score);
        Dataset.Row record = new Dataset.Row(positions)
                .set("STUDYID", shipment.sender().study())
                .set("USUBJID", CdiscFiles.subject(shipment, episode))
                .set("EPISODID", episode.id())
                .set("ASEQ", sequence)
                .set(
                        "PARAM",
                        CdiscNames.scaleName(
                                form.instrument(), score.scale(), score.result().hand()))
                .set("PARAMCD", code)
                .set("PARAMN", parameters.get(code))
                .set("PARCAT1", form.instrument().definition().toUpperCase(Locale.ROOT))
                .set("SRCID", form.key())
                .set("AVISIT", form.visit().map(Visit::name).orElse(VisitAssignment.UNSCHEDULED))
                .set("OUTCOME", score.result().outcome().code());
        form.day().shifted().ifPresent(date -> record.set("ADT", date.toString()));
        score.side(form).ifPresent(side -> record.set("HANDSIDE", side.code().toUpperCase(Locale.ROOT)));
        score.result().reason().map(Reason::code).ifPresent(reason -> record.set("AVALREAS", reason));
        score.result().bounds().ifPresent(b -> record.set("AVALLOW", b.low()).set("AVALHIGH", b.high()));
        window(form, record);
        values(form, score, code, record);
        return record;
    }

    private void window(DeidentifiedForm form, Dataset.Row record) {
        OptionalInt day = StudyDay.of(form.day().day());
        day.ifPresent(d -> record.set("ADY", d));
        form.visit().ifPresent(visit -> {
            int target = StudyDay.of(visit.targetDay());
            record.set("AVISITN", shipment.schedule().visits().indexOf(visit) + 1)
                    .set("AWRANGE", StudyDay.window(visit))
                    .set("AWTARGET", target)
                    .set("AWLO", StudyDay.of(visit.fromDay()))
                    .set("AWHI", StudyDay.of(visit.toDay()))
                    .set("AWU", "DAYS");
            day.ifPresent(d -> record.set("AWTDIFF", Math.abs(d - target)));
        });
    }

    private void values(DeidentifiedForm form, DeidentifiedScore score, String code, Dataset.Row record) {
        OptionalDouble value = score.result()
                .scored()
                .map(ScoreResult.Scored::value)
                .map(OptionalDouble::of)
                .orElse(OptionalDouble.empty());
        record.set("AVAL", value);
        if (score.use() == AssignedScore.Use.BASELINE) {
            record.set("ABLFL", "Y").set("BASE", value);
        }
        if (score.use() != AssignedScore.Use.NOT_USED) {
            record.set("ANL01FL", "Y");
        }
        score.change().ifPresent(change -> change(form, score, change, value, code, record));
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
        double base = change.change().baseline().getAsDouble();
        double chg = value.getAsDouble() - base;
        record.set("CHG", chg);
        if (Double.compare(base + 0.0, 0.0) != 0) {
            record.set("PCHG", 100 * chg / base);
        }
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
