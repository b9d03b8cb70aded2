package lumbrical.cdisc;

import java.util.Iterator;
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
import lumbrical.instrument.Column;
import lumbrical.instrument.Composition;
import lumbrical.instrument.Item;
import lumbrical.instrument.Scale;
import lumbrical.instrument.Side;
import lumbrical.number.Numbers;
import lumbrical.scoring.Reason;

/** The QS domain: items as collected, scores of complete forms as derived records, and SUPPQS with the side. */
final class SdtmQs {
    static final List<Variable> QS = List.of(
            Variable.text("STUDYID", "Study Identifier", "study or profile: study")
                    .protocol()
                    .key(1),
            Variable.text("DOMAIN", "Domain Abbreviation", "QS").terms(Terms.USED),
            Variable.text("USUBJID", "Unique Subject Identifier", "study, site and pseudonym of the patient")
                    .key(2),
            Variable.integer("QSSEQ", "Sequence Number", "number within the subject")
                    .derived()
                    .key(3),
            Variable.text("QSGRPID", "Group ID", "key of the form"),
            Variable.text("QSSPID", "Sponsor-Defined Identifier", "item or scale id"),
            Variable.text("QSTESTCD", "Question Short Name", "short code of the instrument and number")
                    .terms(Terms.usedAs("QSTEST")),
            Variable.text("QSTEST", "Question Name", "our topic label, never the form's wording")
                    .terms(Terms.USED),
            Variable.text("QSCAT", "Category for Question", "definition and version")
                    .terms(Terms.USED),
            Variable.text("QSSCAT", "Subcategory for Question", "scale of a derived record")
                    .terms(Terms.USED),
            Variable.text("QSORRES", "Finding in Original Units", "the response: our word for the code, else the code")
                    .collected(),
            Variable.text("QSSTRESC", "Character Result/Finding in Std Format", "the code or score")
                    .derived(),
            Variable.number("QSSTRESN", "Numeric Finding in Standard Units", "the code or score")
                    .derived(),
            Variable.text("QSSTAT", "Completion Status", "NOT DONE where there is no result")
                    .terms(Terms.NOT_DONE),
            Variable.text("QSREASND", "Reason Not Performed", "why there is no result")
                    .terms(Terms.USED),
            Variable.text("QSLOBXFL", "Last Observation Before Exposure Flag", "not held here; the receiver adds it")
                    .notHeld(),
            Variable.text("QSBLFL", "Baseline Flag", "Y on one record with a result per subject, episode and test")
                    .derived()
                    .terms(Terms.YES_ONLY),
            Variable.text("QSDRVFL", "Derived Flag", "Y on scores computed by this program")
                    .derived()
                    .terms(Terms.YES_ONLY),
            Variable.number(
                    "VISITNUM", "Visit Number", "number in the schedule, from 1; with thousandths where unscheduled"),
            Variable.text("VISIT", "Visit Name", "name in the schedule, or unscheduled and its number")
                    .terms(Terms.USED),
            Variable.integer(
                            "VISITDY",
                            "Planned Study Day of Visit",
                            "target day of the schedule; missing where unscheduled")
                    .protocol(),
            Variable.of("QSDTC", "Date/Time of Finding", Variable.Type.ISO_DATE, "the year, or the shifted date")
                    .collected(),
            Variable.integer("QSDY", "Study Day of Finding", "from the index date of the episode, which is day 1")
                    .derived(),
            Variable.of("QSEVLINT", "Evaluation Interval", Variable.Type.DURATION, "recall period"));

    static final List<Variable> SUPPQS = List.of(
            Variable.text("STUDYID", "Study Identifier", "study or profile: study")
                    .protocol()
                    .key(1),
            Variable.text("RDOMAIN", "Related Domain Abbreviation", "QS")
                    .terms(Terms.USED)
                    .key(2),
            Variable.text("USUBJID", "Unique Subject Identifier", "as in QS").key(3),
            Variable.text("IDVAR", "Identifying Variable", "QSSEQ, or QSGRPID for all records of a form")
                    .terms(Terms.USED)
                    .key(4),
            Variable.text("IDVARVAL", "Identifying Variable Value", "its value in QS")
                    .key(5),
            Variable.text("QNAM", "Qualifier Variable Name", "QSLAT and EPISODID, ours")
                    .terms(Terms.usedAs("QLABEL"))
                    .key(6),
            Variable.text("QLABEL", "Qualifier Variable Label", "Laterality, Episode Identifier"),
            Variable.text("QVAL", "Data Value", "RIGHT, LEFT or BOTH; pseudonym of the episode"),
            Variable.text("QORIG", "Origin", "CRF for the side, ASSIGNED for the episode")
                    .terms(Terms.USED),
            Variable.text("QEVAL", "Evaluator", "not held here; the receiver adds it")
                    .notHeld());

    private final DeidentifiedDataset shipment;

    SdtmQs(DeidentifiedDataset shipment) {
        this.shipment = shipment;
    }

    Dataset qs() {
        return Dataset.of(
                "QS",
                "Questionnaires",
                Dataset.Form.FINDINGS,
                QS,
                (taker, positions) -> each((record, side) -> taker.accept(record), positions));
    }

    Dataset suppqs() {
        Map<String, Integer> qs = Dataset.positions(QS);
        return Dataset.of(
                "SUPPQS",
                "Supplemental Qualifiers for QS",
                Dataset.Form.RELATIONSHIP,
                SUPPQS,
                (taker, positions) -> each(
                        new Taker() {
                            @Override
                            public void start(DeidentifiedEpisode episode, DeidentifiedForm form) {
                                taker.accept(supplement(
                                                CdiscFiles.subject(shipment, episode), "QSGRPID", form.key(), positions)
                                        .set("QNAM", "EPISODID")
                                        .set("QLABEL", "Episode Identifier")
                                        .set("QVAL", episode.id())
                                        .set("QORIG", "ASSIGNED"));
                            }

                            @Override
                            public void take(Dataset.Row record, Optional<Side> side) {
                                side.ifPresent(s -> taker.accept(supplement(
                                                ((Dataset.Cell.Text)
                                                                record.cells().get(qs.get("USUBJID")))
                                                        .text(),
                                                "QSSEQ",
                                                Numbers.format(((Dataset.Cell.Number)
                                                                record.cells().get(qs.get("QSSEQ")))
                                                        .value()),
                                                positions)
                                        .set("QNAM", "QSLAT")
                                        .set("QLABEL", "Laterality")
                                        .set("QVAL", s.code().toUpperCase(Locale.ROOT))
                                        .set("QORIG", "CRF")));
                            }
                        },
                        qs));
    }

    /** A record about the record, or the records of a form, that {@code variable} names. */
    private Dataset.Row supplement(String subject, String variable, String value, Map<String, Integer> positions) {
        return new Dataset.Row(positions)
                .set("STUDYID", shipment.sender().study())
                .set("RDOMAIN", "QS")
                .set("USUBJID", subject)
                .set("IDVAR", variable)
                .set("IDVARVAL", value);
    }

    /** Takes the records of QS. */
    private interface Taker {
        /** The records of a form follow. */
        default void start(DeidentifiedEpisode episode, DeidentifiedForm form) {}

        /** A record, and the side it is about. */
        void take(Dataset.Row record, Optional<Side> side);
    }

    /** Episodes of one subject follow each other, since they come by pseudonym. */
    private void each(Taker taker, Map<String, Integer> positions) {
        QsSequence sequence = new QsSequence();
        VisitNumbers numbers = new VisitNumbers(shipment.schedule());
        shipment.contents().forEach(episode -> {
            sequence.startOf(episode);
            BaselineRecords baselines = BaselineRecords.of(episode);
            Iterator<VisitNumbers.Numbered> visits = numbers.of(episode).iterator();
            for (DeidentifiedForm form : episode.forms()) {
                VisitNumbers.Numbered visit = visits.next();
                taker.start(episode, form);
                for (Column column : form.columnsUsed()) {
                    Dataset.Row record = start(episode, form, visit, sequence.next(), positions);
                    item(form, column, baselines, record);
                    taker.take(record, column.hand().or(form::side));
                }
                for (DeidentifiedScore score : form.scores()) {
                    OptionalInt number = sequence.ofScore(score);
                    if (number.isPresent()) {
                        Dataset.Row record = start(episode, form, visit, number.getAsInt(), positions);
                        score(form, score, record);
                        taker.take(record, score.side(form));
                    }
                }
            }
        });
    }

    private Dataset.Row start(
            DeidentifiedEpisode episode,
            DeidentifiedForm form,
            VisitNumbers.Numbered at,
            int sequence,
            Map<String, Integer> positions) {
        Dataset.Row record = new Dataset.Row(positions)
                .set("STUDYID", shipment.sender().study())
                .set("DOMAIN", "QS")
                .set("USUBJID", CdiscFiles.subject(shipment, episode))
                .set("QSSEQ", sequence)
                .set("QSGRPID", form.key())
                .set("QSCAT", form.instrument().definition().toUpperCase(Locale.ROOT))
                .set("VISIT", at.name())
                .set("VISITNUM", at.number());
        form.day().iso().ifPresent(date -> record.set("QSDTC", date));
        form.visit().ifPresent(visit -> record.set("VISITDY", StudyDay.of(visit.targetDay())));
        StudyDay.of(form.day().day()).ifPresent(day -> record.set("QSDY", day));
        OptionalInt recall = form.instrument().facts().recall().days();
        recall.ifPresent(days -> record.set("QSEVLINT", "-P" + days + "D"));
        return record;
    }

    private static void item(DeidentifiedForm form, Column column, BaselineRecords baselines, Dataset.Row record) {
        OptionalDouble response = form.responses().allowed(column);
        String test = CdiscNames.itemCode(form.instrument(), column);
        record.set("QSSPID", column.shortName())
                .set("QSTESTCD", test)
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
            if (baselines.holds(test, form)) {
                record.set("QSBLFL", "Y");
            }
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
        if (score.use() == AssignedScore.Use.BASELINE) {
            record.set("QSBLFL", "Y");
        }
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
