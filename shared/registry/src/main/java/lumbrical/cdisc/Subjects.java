package lumbrical.cdisc;

import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalInt;
import java.util.Set;
import java.util.function.Consumer;
import java.util.stream.Collectors;
import lumbrical.deidentify.DeidentifiedDataset;
import lumbrical.deidentify.DeidentifiedDay;
import lumbrical.deidentify.DeidentifiedEpisode;

/** The records of one a subject: DM with SUPPDM, and ADSL. What the standard has and the clinic's tables do not is missing. */
final class Subjects {
    private static final String TO_ADD = "not held here; the receiver adds it";
    private static final String AGE = "lowest age at an index date";
    private static final String AGE_GROUP = "age at the index date by tens, where all episodes of the subject agree";
    private static final String SEX = "F, M, or U: unknown, not sent, differing, or another, which is in SUPPDM";
    private static final String DEATH = "Y where an episode closed by a death and the profile sends that";

    /** Variables and order: the standard's example of DM for SDTMIG 3.3. */
    static final List<Variable> DM = List.of(
            Variable.text("STUDYID", "Study Identifier", "study or profile: study")
                    .protocol()
                    .key(1),
            Variable.text("DOMAIN", "Domain Abbreviation", "DM")
                    .terms(Terms.USED)
                    .requiredByStandard(),
            Variable.text("USUBJID", "Unique Subject Identifier", "study, site and pseudonym of the patient")
                    .key(2),
            Variable.text("SUBJID", "Subject Identifier for the Study", "pseudonym of the patient")
                    .requiredByStandard(),
            Variable.of(
                            "RFSTDTC",
                            "Subject Reference Start Date/Time",
                            Variable.Type.ISO_DATE,
                            "the shifted index date, where one episode is sent; study days count from each episode's own")
                    .derived(),
            date("RFENDTC", "Subject Reference End Date/Time"),
            date("RFXSTDTC", "Date/Time of First Study Treatment"),
            date("RFXENDTC", "Date/Time of Last Study Treatment"),
            date("RFICDTC", "Date/Time of Informed Consent"),
            date("RFPENDTC", "Date/Time of End of Participation"),
            date("DTHDTC", "Date/Time of Death"),
            Variable.text("DTHFL", "Subject Death Flag", DEATH).derived().terms(Terms.YES_ONLY),
            Variable.text("SITEID", "Study Site Identifier", "the site given for the upload")
                    .terms(Terms.USED)
                    .requiredByStandard(),
            date("BRTHDTC", "Date/Time of Birth"),
            Variable.integer("AGE", "Age", AGE).derived(),
            Variable.text("AGEU", "Age Units", "YEARS where there is an age").terms(Terms.AGE_UNIT),
            Variable.text("SEX", "Sex", SEX).collected().terms(Terms.SEX).requiredByStandard(),
            text("RACE", "Race"),
            text("ETHNIC", "Ethnicity"),
            text("ARMCD", "Planned Arm Code"),
            text("ARM", "Description of Planned Arm"),
            text("ACTARMCD", "Actual Arm Code"),
            text("ACTARM", "Description of Actual Arm"),
            text("ARMNRS", "Reason Arm and/or Actual Arm is Null"),
            text("ACTARMUD", "Description of Unplanned Actual Arm"),
            text("COUNTRY", "Country"));

    static final List<Variable> SUPPDM = List.of(
            Variable.text("STUDYID", "Study Identifier", "study or profile: study")
                    .protocol()
                    .key(1),
            Variable.text("RDOMAIN", "Related Domain Abbreviation", "DM")
                    .terms(Terms.USED)
                    .key(2),
            Variable.text("USUBJID", "Unique Subject Identifier", "as in DM").key(3),
            Variable.text("IDVAR", "Identifying Variable", "missing: there is one record of DM a subject")
                    .key(4),
            Variable.text("IDVARVAL", "Identifying Variable Value", "missing, as IDVAR")
                    .key(5),
            Variable.text("QNAM", "Qualifier Variable Name", "AGEGR1 and SEXOTH, ours")
                    .terms(Terms.usedAs("QLABEL"))
                    .key(6),
            Variable.text("QLABEL", "Qualifier Variable Label", "Pooled Age Group 1, Sex as Recorded"),
            Variable.text("QVAL", "Data Value", AGE_GROUP + "; the sex that is none of F, M and U"),
            Variable.text("QORIG", "Origin", "DERIVED for the group, CRF for the sex")
                    .terms(Terms.USED),
            text("QEVAL", "Evaluator"));

    /** Variables and order: the ADSL of the CDISC pilot, those of its trial left out. */
    static final List<Variable> ADSL = List.of(
            Variable.text("STUDYID", "Study Identifier", "DM.STUDYID")
                    .predecessor()
                    .key(1),
            Variable.text("USUBJID", "Unique Subject Identifier", "DM.USUBJID")
                    .predecessor()
                    .key(2),
            Variable.text("SUBJID", "Subject Identifier for the Study", "DM.SUBJID")
                    .predecessor()
                    .requiredByStandard(),
            Variable.text("SITEID", "Study Site Identifier", "DM.SITEID")
                    .predecessor()
                    .requiredByStandard()
                    .terms(Terms.USED),
            text("ARM", "Description of Planned Arm"),
            text("TRT01P", "Planned Treatment for Period 01"),
            text("TRT01A", "Actual Treatment for Period 01"),
            Variable.of("TRTSDT", "Date of First Exposure to Treatment", Variable.Type.DATE, TO_ADD)
                    .notHeld(),
            Variable.of("TRTEDT", "Date of Last Exposure to Treatment", Variable.Type.DATE, TO_ADD)
                    .notHeld(),
            Variable.integer("AGE", "Age", "DM.AGE").predecessor(),
            Variable.text("AGEGR1", "Pooled Age Group 1", AGE_GROUP).derived().terms(Terms.USED),
            Variable.text("AGEU", "Age Units", "DM.AGEU").predecessor().terms(Terms.AGE_UNIT),
            text("RACE", "Race"),
            Variable.text("SEX", "Sex", "DM.SEX").predecessor().terms(Terms.SEX).requiredByStandard(),
            text("ETHNIC", "Ethnicity"),
            Variable.text("DTHFL", "Subject Died?", "DM.DTHFL").predecessor().terms(Terms.YES_ONLY));

    private static final Map<String, String> SEX_CODES = Map.of("female", "F", "male", "M", "unknown", "U");

    private final DeidentifiedDataset shipment;

    Subjects(DeidentifiedDataset shipment) {
        this.shipment = shipment;
    }

    private static Variable text(String name, String label) {
        return Variable.text(name, label, TO_ADD).notHeld();
    }

    private static Variable date(String name, String label) {
        return Variable.of(name, label, Variable.Type.ISO_DATE, TO_ADD).notHeld();
    }

    Dataset dm() {
        return Dataset.ofEpisodes(
                "DM",
                "Demographics",
                Dataset.Form.SPECIAL_PURPOSE,
                DM,
                (taker, positions) -> each(subject -> {
                    Dataset.Row record = person(subject, positions).set("DOMAIN", "DM");
                    subject.referenceStart().ifPresent(date -> record.set("RFSTDTC", date));
                    taker.accept(record);
                }));
    }

    Dataset suppdm() {
        return Dataset.ofEpisodes(
                "SUPPDM",
                "Supplemental Qualifiers for DM",
                Dataset.Form.RELATIONSHIP,
                SUPPDM,
                (taker, positions) -> each(subject -> {
                    subject.alike("age_band")
                            .map(band -> supplement(subject, positions)
                                    .set("QNAM", "AGEGR1")
                                    .set("QLABEL", "Pooled Age Group 1")
                                    .set("QVAL", band)
                                    .set("QORIG", "DERIVED"))
                            .ifPresent(taker);
                    subject.alike("sex")
                            .filter(sex -> !SEX_CODES.containsKey(sex))
                            .map(sex -> supplement(subject, positions)
                                    .set("QNAM", "SEXOTH")
                                    .set("QLABEL", "Sex as Recorded")
                                    .set("QVAL", sex)
                                    .set("QORIG", "CRF"))
                            .ifPresent(taker);
                }));
    }

    Dataset adsl() {
        return Dataset.ofEpisodes(
                "ADSL",
                "Subject-Level Analysis Dataset",
                Dataset.Form.SUBJECT_LEVEL,
                ADSL,
                (taker, positions) -> each(subject -> {
                    Dataset.Row record = person(subject, positions);
                    subject.alike("age_band").ifPresent(band -> record.set("AGEGR1", band));
                    taker.accept(record);
                }));
    }

    private Dataset.Row supplement(Subject subject, Map<String, Integer> positions) {
        return new Dataset.Row(positions)
                .set("STUDYID", shipment.sender().study())
                .set("RDOMAIN", "DM")
                .set("USUBJID", CdiscFiles.subject(shipment, subject.id()));
    }

    private Dataset.Row person(Subject subject, Map<String, Integer> positions) {
        Dataset.Row record = new Dataset.Row(positions)
                .set("STUDYID", shipment.sender().study())
                .set("USUBJID", CdiscFiles.subject(shipment, subject.id()))
                .set("SUBJID", subject.id())
                .set("SITEID", shipment.sender().site());
        record.set("SEX", subject.alike("sex").map(SEX_CODES::get).orElse("U")); // no record may be without it
        subject.age().ifPresent(age -> record.set("AGE", age).set("AGEU", "YEARS"));
        if (subject.died()) {
            record.set("DTHFL", "Y");
        }
        return record;
    }

    /** Hands the subjects over; episodes of one subject follow each other. */
    private static Dataset.EpisodeTaker each(Consumer<Subject> taker) {
        List<DeidentifiedEpisode> episodes = new ArrayList<>();
        return new Dataset.EpisodeTaker() {
            @Override
            public void accept(DeidentifiedEpisode episode) {
                if (!episodes.isEmpty() && !episodes.get(0).subject().equals(episode.subject())) {
                    end();
                }
                episodes.add(episode);
            }

            @Override
            public void end() {
                if (!episodes.isEmpty()) {
                    taker.accept(Subject.of(episodes));
                    episodes.clear();
                }
            }
        };
    }

    /**
     * A patient, of whom at least one episode is sent.
     *
     * @param id pseudonym
     * @param episodes the episodes sent
     */
    private record Subject(String id, List<DeidentifiedEpisode> episodes) {
        static Subject of(List<DeidentifiedEpisode> episodes) {
            return new Subject(episodes.get(0).subject(), List.copyOf(episodes));
        }

        /** The value that all episodes with a value have; empty where two differ. */
        Optional<String> alike(String column) {
            Set<String> values = episodes.stream()
                    .flatMap(e -> Optional.ofNullable(e.attributes().get(column)).stream())
                    .collect(Collectors.toSet());
            return values.size() == 1 ? values.stream().findFirst() : Optional.empty();
        }

        OptionalInt age() {
            return episodes.stream()
                    .flatMap(e -> Optional.ofNullable(e.attributes().get("age")).stream())
                    .mapToInt(Integer::parseInt)
                    .min();
        }

        boolean died() {
            return episodes.stream().anyMatch(e -> "died".equals(e.attributes().get("closed_reason")));
        }

        Optional<String> referenceStart() {
            return episodes.size() == 1
                    ? episodes.get(0).index().flatMap(DeidentifiedDay::shifted).map(Object::toString)
                    : Optional.empty();
        }
    }
}
