package lumbrical.cdisc;

import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.OptionalInt;
import lumbrical.deidentify.DeidentifiedDataset;
import lumbrical.deidentify.DeidentifiedEpisode;
import lumbrical.deidentify.DeidentifiedForm;
import lumbrical.deidentify.DeidentifiedScore;
import lumbrical.followup.AssignedScore;
import lumbrical.followup.Visit;
import lumbrical.followup.VisitAssignment;
import lumbrical.instrument.Column;
import lumbrical.instrument.Composition;
import lumbrical.instrument.Item;
import lumbrical.instrument.Scale;
import lumbrical.instrument.Side;
import lumbrical.number.Numbers;
import lumbrical.scoring.Reason;
import lumbrical.scoring.ScoreResult;

/** The QS domain: items as collected, scores of complete forms as derived records, and SUPPQS with the side. */
final class SdtmQs {
    static final List<Variable> QS = List.of(
            Variable.text("STUDYID", "Study Identifier", "study or profile: study")
                    .key(1),
            Variable.text("DOMAIN", "Domain Abbreviation", "QS"),
            Variable.text("USUBJID", "Unique Subject Identifier", "study, site and pseudonym of the patient")
                    .key(2),
            Variable.integer("QSSEQ", "Sequence Number", "number within the subject")
                    .key(3),
            Variable.text("QSGRPID", "Group ID", "key of the form"),
            Variable.text("QSSPID", "Sponsor-Defined Identifier", "item or scale id"),
            Variable.text("QSTESTCD", "Question Short Name", "short code of the instrument and number"),
            Variable.text("QSTEST", "Question Name", "our topic label, never the form's wording"),
            Variable.text("QSCAT", "Category for Question", "definition and version"),
            Variable.text("QSSCAT", "Subcategory for Question", "scale of a derived record"),
            Variable.text("QSORRES", "Finding in Original Units", "the response: our word for the code, else the code"),
            Variable.text("QSSTRESC", "Character Result/Finding in Std Format", "the code or score"),
            Variable.number("QSSTRESN", "Numeric Finding in Standard Units", "the code or score"),
            Variable.text("QSSTAT", "Completion Status", "NOT DONE where there is no result"),
            Variable.text("QSREASND", "Reason Not Performed", "why there is no result"),
            Variable.text("QSLOBXFL", "Last Observation Before Exposure Flag", "left to the sponsor"),
            Variable.text("QSBLFL", "Baseline Flag", "Y on the form that is the baseline"),
            Variable.text("QSDRVFL", "Derived Flag", "Y on scores computed by this program"),
            Variable.integer("VISITNUM", "Visit Number", "number in the schedule, from 1"),
            Variable.text("VISIT", "Visit Name", "schedule"),
            Variable.integer("VISITDY", "Planned Study Day of Visit", "target day of the schedule"),
            Variable.text("QSDTC", "Date/Time of Finding", "the year, or the shifted date"),
            Variable.integer("QSDY", "Study Day of Finding", "from the index date of the episode, which is day 1"),
            Variable.text("QSEVLINT", "Evaluation Interval", "recall period"));

    static final List<Variable> SUPPQS = List.of(
            Variable.text("STUDYID", "Study Identifier", "study or profile: study")
                    .key(1),
            Variable.text("RDOMAIN", "Related Domain Abbreviation", "QS"),
            Variable.text("USUBJID", "Unique Subject Identifier", "as in QS").key(2),
            Variable.text("IDVAR", "Identifying Variable", "QSSEQ").key(3),
            Variable.text("IDVARVAL", "Identifying Variable Value", "QSSEQ of the record")
                    .key(4),
            Variable.text("QNAM", "Qualifier Variable Name", "QSLAT, ours").key(5),
            Variable.text("QLABEL", "Qualifier Variable Label", "Laterality"),
            Variable.text("QVAL", "Data Value", "RIGHT, LEFT or BOTH"),
            Variable.text("QORIG", "Origin", "CRF"),
            Variable.text("QEVAL", "Evaluator", "blank"));

    private final DeidentifiedDataset shipment;

    SdtmQs(DeidentifiedDataset shipment) {
        this.shipment = shipment;
    }

    Dataset qs() {
        Map<String, Integer> positions = new Dataset("QS", "", QS, taker -> {}).positions();
        return new Dataset(
                "QS", "Questionnaires", QS, taker -> each((record, side) -> taker.accept(record), positions));
    }

    Dataset suppqs() {
        Map<String, Integer> qs = new Dataset("QS", "", QS, taker -> {}).positions();
        Map<String, Integer> positions = new Dataset("SUPPQS", "", SUPPQS, taker -> {}).positions();
        return new Dataset(
                "SUPPQS",
                "Supplemental Qualifiers for QS",
                SUPPQS,
                taker -> each(
                        (record, side) -> side.ifPresent(s -> taker.accept(supplement(record, s, qs, positions))), qs));
    }

    private Dataset.Row supplement(
            Dataset.Row record, Side side, Map<String, Integer> qs, Map<String, Integer> positions) {
        double sequence = ((Dataset.Cell.Number) record.cells().get(qs.get("QSSEQ"))).value();
        return new Dataset.Row(positions)
                .set("STUDYID", shipment.sender().study())
                .set("RDOMAIN", "QS")
                .set("USUBJID", ((Dataset.Cell.Text) record.cells().get(qs.get("USUBJID"))).text())
                .set("IDVAR", "QSSEQ")
                .set("IDVARVAL", Numbers.format(sequence))
                .set("QNAM", "QSLAT")
                .set("QLABEL", "Laterality")
                .set("QVAL", side.code().toUpperCase(Locale.ROOT))
                .set("QORIG", "CRF");
    }

    /** Takes a record of QS and the side it is about. */
    private interface Taker {
        void take(Dataset.Row record, Optional<Side> side);
    }

    /** Episodes of one subject follow each other, since they come by pseudonym. */
    private void each(Taker taker, Map<String, Integer> positions) {
        Sequence sequence = new Sequence();
        shipment.contents().forEach(episode -> {
            for (DeidentifiedForm form : episode.forms()) {
                for (Column column : form.columnsUsed()) {
                    Dataset.Row record = start(episode, form, sequence, positions);
                    item(form, column, record);
                    taker.take(record, column.hand().or(form::side));
                }
                for (DeidentifiedScore score : form.scores()) {
                    if (score.result().outcome() != ScoreResult.Outcome.WITH_MISSING) {
                        Dataset.Row record = start(episode, form, sequence, positions);
                        score(form, score, record);
                        taker.take(record, score.side(form));
                    }
                }
            }
        });
    }

    /** Numbers records within each subject. */
    private static final class Sequence {
        private String subject = "";
        private int last;

        int next(String of) {
            last = of.equals(subject) ? last + 1 : 1;
            subject = of;
            return last;
        }
    }

    private Dataset.Row start(
            DeidentifiedEpisode episode, DeidentifiedForm form, Sequence sequence, Map<String, Integer> positions) {
        Dataset.Row record = new Dataset.Row(positions)
                .set("STUDYID", shipment.sender().study())
                .set("DOMAIN", "QS")
                .set("USUBJID", CdiscFiles.subject(shipment, episode))
                .set("QSSEQ", sequence.next(episode.subject()))
                .set("QSGRPID", form.key())
                .set("QSCAT", form.instrument().definition().toUpperCase(Locale.ROOT))
                .set(
                        "VISIT",
                        form.visit()
                                .map(Visit::name)
                                .orElse(VisitAssignment.UNSCHEDULED)
                                .toUpperCase(Locale.ROOT));
        form.day().iso().ifPresent(date -> record.set("QSDTC", date));
        form.visit().ifPresent(visit -> record.set(
                        "VISITNUM", shipment.schedule().visits().indexOf(visit) + 1)
                .set("VISITDY", StudyDay.of(visit.targetDay())));
        StudyDay.of(form.day().day()).ifPresent(day -> record.set("QSDY", day));
        OptionalInt recall = form.instrument().facts().recall().days();
        recall.ifPresent(days -> record.set("QSEVLINT", "-P" + days + "D"));
        if (form.scores().stream().anyMatch(s -> s.use() == AssignedScore.Use.BASELINE)) {
            record.set("QSBLFL", "Y");
        }
        return record;
    }

    private static void item(DeidentifiedForm form, Column column, Dataset.Row record) {
        OptionalDouble response = form.responses().allowed(column);
        record.set("QSSPID", column.shortName())
                .set("QSTESTCD", CdiscNames.itemCode(form.instrument(), column))
                .set("QSTEST", CdiscNames.itemName(form.instrument(), column));
        if (response.isPresent()) {
            double value = response.getAsDouble();
            String text = Numbers.format(value);
            record.set(
                            "QSORRES",
                            Optional.ofNullable(
                                            column.item().responses().labels().get(value))
                                    .orElse(text))
                    .set("QSSTRESC", text)
                    .set("QSSTRESN", value);
            return;
        }
        record.set("QSSTAT", "NOT DONE")
                .set(
                        "QSREASND",
                        form.responses().entered(column.index())
                                ? "RESPONSE NOT ALLOWED"
                                : skipped(form, column) ? "NOT APPLICABLE" : "LEFT BLANK");
    }

    private static void score(DeidentifiedForm form, DeidentifiedScore score, Dataset.Row record) {
        record.set("QSSPID", score.key())
                .set(
                        "QSTESTCD",
                        CdiscNames.scaleCode(
                                form.instrument(), score.scale(), score.result().hand()))
                .set(
                        "QSTEST",
                        CdiscNames.scaleName(
                                form.instrument(), score.scale(), score.result().hand()))
                .set("QSSCAT", score.scale().id().value().toUpperCase(Locale.ROOT))
                .set("QSDRVFL", "Y");
        score.result().scored().ifPresent(s -> record.set("QSSTRESC", Numbers.format(s.value()))
                .set("QSSTRESN", s.value()));
        score.result().reason().map(Reason::code).ifPresent(reason -> record.set("QSSTAT", "NOT DONE")
                .set("QSREASND", reason.replace('-', ' ').toUpperCase(Locale.ROOT)));
    }

    /** Whether the form told the person to leave the item out. */
    private static boolean skipped(DeidentifiedForm form, Column column) {
        for (Scale scale : form.instrument().scales()) {
            if (scale.composition() instanceof Composition.FromItems made
                    && made.skip().isPresent()
                    && made.items().stream().anyMatch(i -> i.item().equals(column.item()))
                    && decided(form, column, made.skip().get())) {
                return true;
            }
        }
        return false;
    }

    private static boolean decided(DeidentifiedForm form, Column column, Composition.Skip skip) {
        Item decides = skip.item();
        return form.instrument().columns().stream()
                .filter(c -> c.item().equals(decides) && c.hand().equals(column.hand()))
                .anyMatch(c -> form.responses().value(c.index()).equals(OptionalDouble.of(skip.code())));
    }
}
