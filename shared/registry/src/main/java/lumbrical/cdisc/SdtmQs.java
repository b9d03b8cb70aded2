package lumbrical.cdisc;

import java.util.Iterator;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.OptionalInt;
import java.util.function.Consumer;
import java.util.function.Function;
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
            Variable.text("DOMAIN", "Domain Abbreviation", "QS")
                    .terms(Terms.USED)
                    .requiredByStandard(),
            Variable.text("USUBJID", "Unique Subject Identifier", "study, site and pseudonym of the patient")
                    .key(2),
            Variable.integer("QSSEQ", "Sequence Number", "number within the subject")
                    .derived()
                    .key(3),
            Variable.text("QSGRPID", "Group ID", "key of the form"),
            Variable.text("QSSPID", "Sponsor-Defined Identifier", "item or scale id"),
            Variable.text("QSTESTCD", "Question Short Name", "short code of the instrument and number")
                    .terms(Terms.usedAs("QSTEST"))
                    .requiredByStandard(),
            Variable.text("QSTEST", "Question Name", "our topic label, never the form's wording")
                    .terms(Terms.USED)
                    .requiredByStandard(),
            Variable.text("QSCAT", "Category for Question", "definition and version")
                    .terms(Terms.USED)
                    .requiredByStandard(),
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
    private final TestNames.Book names = new TestNames.Book();

    SdtmQs(DeidentifiedDataset shipment) {
        this.shipment = shipment;
    }

    Dataset qs() {
        return Dataset.ofEpisodes(
                "QS",
                "Questionnaires",
                Dataset.Form.FINDINGS,
                QS,
                (taker, positions) -> each(episode -> {
                    BaselineRecords baselines = BaselineRecords.of(episode, names);
                    return form -> new Findings(form, baselines, taker, positions);
                }));
    }

    Dataset suppqs() {
        return Dataset.ofEpisodes(
                "SUPPQS",
                "Supplemental Qualifiers for QS",
                Dataset.Form.RELATIONSHIP,
                SUPPQS,
                (taker, positions) -> each(episode -> form -> new Supplements(form, taker, positions)));
    }

    /** A form on its way into the records. */
    private record FormAt(DeidentifiedEpisode episode, DeidentifiedForm form, VisitNumbers.Numbered visit) {}

    /** Makes the records that are about one form. */
    private interface FormRecords {
        /** The record of QS with that number is about an item. */
        void item(Column column, int number);

        /** The record of QS with that number is about a score. */
        void score(DeidentifiedScore score, int number);
    }

    /** Episodes of one subject follow each other, since they come by pseudonym. */
    private Dataset.EpisodeTaker each(Function<DeidentifiedEpisode, Function<FormAt, FormRecords>> begin) {
        QsSequence sequence = new QsSequence();
        VisitNumbers numbers = new VisitNumbers(shipment.schedule());
        return episode -> {
            sequence.startOf(episode);
            Function<FormAt, FormRecords> ofEpisode = begin.apply(episode);
            Iterator<VisitNumbers.Numbered> visits = numbers.of(episode).iterator();
            for (DeidentifiedForm form : episode.forms()) {
                FormRecords records = ofEpisode.apply(new FormAt(episode, form, visits.next()));
                for (Column column : form.columnsUsed()) {
                    records.item(column, sequence.next());
                }
                for (DeidentifiedScore score : form.scores()) {
                    sequence.ofScore(score).ifPresent(number -> records.score(score, number));
                }
            }
        };
    }

    /** The records of QS. */
    private final class Findings implements FormRecords {
        private final DeidentifiedForm form;
        private final TestNames tests;
        private final BaselineRecords baselines;
        private final Consumer<Dataset.Row> taker;
        /** What all records of the form have in common. */
        private final Dataset.Row common;

        Findings(FormAt at, BaselineRecords baselines, Consumer<Dataset.Row> taker, Map<String, Integer> positions) {
            this.form = at.form();
            this.tests = names.of(form.instrument());
            this.baselines = baselines;
            this.taker = taker;
            this.common = new Dataset.Row(positions)
                    .set("STUDYID", shipment.sender().study())
                    .set("DOMAIN", "QS")
                    .set("USUBJID", CdiscFiles.subject(shipment, at.episode()))
                    .set("QSGRPID", form.key())
                    .set("QSCAT", tests.category())
                    .set("VISIT", at.visit().name())
                    .set("VISITNUM", at.visit().number());
            form.day().iso().ifPresent(date -> common.set("QSDTC", date));
            form.visit().ifPresent(visit -> common.set("VISITDY", StudyDay.of(visit.targetDay())));
            StudyDay.of(form.day().day()).ifPresent(day -> common.set("QSDY", day));
            OptionalInt recall = form.instrument().facts().recall().days();
            recall.ifPresent(days -> common.set("QSEVLINT", "-P" + days + "D"));
        }

        private Dataset.Row start(int number, String id, TestNames.Test test) {
            return common.copy()
                    .set("QSSEQ", number)
                    .set("QSSPID", id)
                    .set("QSTESTCD", test.code())
                    .set("QSTEST", test.name());
        }

        @Override
        public void item(Column column, int number) {
            OptionalDouble response = form.responses().allowed(column);
            TestNames.Test test = tests.item(column);
            Dataset.Row record = start(number, column.shortName(), test);
            if (response.isPresent()) {
                double value = response.getAsDouble();
                String text = Numbers.format(value);
                record.set(
                                "QSORRES",
                                Optional.ofNullable(column.item()
                                                .responses()
                                                .labels()
                                                .get(value))
                                        .orElse(text))
                        .set("QSSTRESC", text)
                        .set("QSSTRESN", value);
                if (baselines.holds(test.code(), form)) {
                    record.set("QSBLFL", "Y");
                }
            } else {
                record.set("QSSTAT", "NOT DONE")
                        .set(
                                "QSREASND",
                                form.responses().entered(column.index())
                                        ? "RESPONSE NOT ALLOWED"
                                        : skipped(form, column) ? "NOT APPLICABLE" : "LEFT BLANK");
            }
            taker.accept(record);
        }

        @Override
        public void score(DeidentifiedScore score, int number) {
            Dataset.Row record = start(
                            number,
                            score.key(),
                            tests.scale(score.scale(), score.result().hand()))
                    .set("QSSCAT", score.scale().id().value().toUpperCase(Locale.ROOT))
                    .set("QSDRVFL", "Y");
            if (score.use() == AssignedScore.Use.BASELINE) {
                record.set("QSBLFL", "Y");
            }
            score.result().scored().ifPresent(s -> record.set("QSSTRESC", Numbers.format(s.value()))
                    .set("QSSTRESN", s.value()));
            score.result().reason().map(Reason::code).ifPresent(reason -> record.set("QSSTAT", "NOT DONE")
                    .set("QSREASND", reason.replace('-', ' ').toUpperCase(Locale.ROOT)));
            taker.accept(record);
        }
    }

    /** The records of SUPPQS: the episode of a form, and the side of each record of QS that has one. */
    private final class Supplements implements FormRecords {
        private final DeidentifiedForm form;
        private final Consumer<Dataset.Row> taker;
        /** What the records about records of the form have in common. */
        private final Dataset.Row ofRecord;

        Supplements(FormAt at, Consumer<Dataset.Row> taker, Map<String, Integer> positions) {
            this.form = at.form();
            this.taker = taker;
            Dataset.Row common = new Dataset.Row(positions)
                    .set("STUDYID", shipment.sender().study())
                    .set("RDOMAIN", "QS")
                    .set("USUBJID", CdiscFiles.subject(shipment, at.episode()));
            this.ofRecord = common.copy()
                    .set("IDVAR", "QSSEQ")
                    .set("QNAM", "QSLAT")
                    .set("QLABEL", "Laterality")
                    .set("QORIG", "CRF");
            taker.accept(common.set("IDVAR", "QSGRPID")
                    .set("IDVARVAL", form.key())
                    .set("QNAM", "EPISODID")
                    .set("QLABEL", "Episode Identifier")
                    .set("QVAL", at.episode().id())
                    .set("QORIG", "ASSIGNED"));
        }

        private void side(Optional<Side> side, int number) {
            side.ifPresent(s -> taker.accept(ofRecord.copy()
                    .set("IDVARVAL", Integer.toString(number))
                    .set("QVAL", s.code().toUpperCase(Locale.ROOT))));
        }

        @Override
        public void item(Column column, int number) {
            side(column.hand().or(form::side), number);
        }

        @Override
        public void score(DeidentifiedScore score, int number) {
            side(score.side(form), number);
        }
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
