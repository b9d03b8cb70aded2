package lumbrical.registry;

import com.fasterxml.jackson.core.JsonFactory;
import com.fasterxml.jackson.core.JsonGenerator;
import java.io.IOException;
import java.io.OutputStream;
import java.util.List;
import java.util.Map;
import java.util.Set;
import java.util.TreeMap;
import lumbrical.deidentify.DeidentifiedDataset;
import lumbrical.deidentify.Disclosure;
import lumbrical.deidentify.Profile;
import lumbrical.deidentify.SentRecords;
import lumbrical.instrument.Instrument;
import lumbrical.instrument.Source;
import lumbrical.instrument.Threshold;
import lumbrical.output.DictionaryEntry;
import lumbrical.output.StagedFolder;

/** Writes the manifest of a submission: what is in the folder, what stayed at home, by which rules. */
final class Manifest {
    static final String NAME = "manifest.json";
    static final String FORMAT = "lumbrical submission";
    static final int VERSION = 1;
    private static final String CAUTION =
            "Scores support and never replace clinical judgement. A threshold holds for the population it came from. Check each"
                    + " instrument's licence; follow local policy and the instrument's manual. De-identified is not anonymous:"
                    + " send only what the law and the agreement with the receiver allow.";

    private final DeidentifiedDataset shipment;
    private final Submission.SubmissionSettings settings;
    private final Reconciliation reconciliation;
    private final List<ColumnDisposition> columns;

    Manifest(
            DeidentifiedDataset shipment,
            Submission.SubmissionSettings settings,
            Reconciliation reconciliation,
            List<ColumnDisposition> columns) {
        this.shipment = shipment;
        this.settings = settings;
        this.reconciliation = reconciliation;
        this.columns = columns;
    }

    /**
     * @param files the files of the folder, this one left out
     * @param fields the fields that they hold
     * @param sent what the receiver knows after this
     */
    long write(List<StagedFolder.Written> files, Submission.Fields fields, SentRecords sent, OutputStream out)
            throws IOException {
        try (JsonGenerator json = new JsonFactory().createGenerator(out)) {
            json.useDefaultPrettyPrinter();
            json.writeStartObject();
            json.writeStringField("format", FORMAT);
            json.writeNumberField("version", VERSION);
            json.writeStringField("program", settings.program());
            json.writeStringField("as", settings.format().code());
            json.writeStringField("site", shipment.sender().site());
            json.writeStringField("study", shipment.sender().study());
            json.writeStringField("asOf", shipment.asOf().toString());
            json.writeStringField("caution", CAUTION);
            profile(json);
            disclosure(json);
            counts(json);
            columns(json);
            definitions(json);
            thresholds(json);
            numbers("amended", counts(sent, Set.of(SentRecords.State.AMENDED, SentRecords.State.RETURNED)), json);
            numbers("withdrawn", counts(sent, Set.of(SentRecords.State.WITHDRAWN)), json);
            json.writeStringField("howToLoad", howToLoad());
            fields("left", fields.left(), json);
            if (!fields.notHeld().isEmpty()) {
                fields("notHeld", fields.notHeld(), json); // of the standard; the receiver adds them
            }
            files(files, json);
            json.writeEndObject();
        }
        return 1;
    }

    private void profile(JsonGenerator json) throws IOException {
        Profile profile = shipment.profile();
        json.writeObjectFieldStart("deIdentification");
        json.writeStringField("profile", profile.id() + "@" + profile.version());
        json.writeStringField("dates", profile.dates().code());
        json.writeStringField("pseudonyms", shipment.statement());
        json.writeBooleanField("formulaGuard", settings.formulaGuard());
        json.writeEndObject();
    }

    private void disclosure(JsonGenerator json) throws IOException {
        Disclosure disclosure = shipment.disclosure();
        json.writeObjectFieldStart("disclosure");
        cells("person", disclosure.person(), json);
        cells("visits", disclosure.visits(), json);
        cells("forms", disclosure.forms(), json);
        json.writeBooleanField("accepted", settings.acceptDisclosure());
        numbers("coarsened", disclosure.coarsened(), json);
        json.writeNumberField("episodes_left_out", disclosure.episodesLeftOut());
        json.writeEndObject();
    }

    private static void cells(String name, Disclosure.Cells cells, JsonGenerator json) throws IOException {
        json.writeObjectFieldStart(name);
        json.writeNumberField("k", cells.k());
        json.writeArrayFieldStart("fields");
        for (String field : cells.fields()) {
            json.writeString(field);
        }
        json.writeEndArray();
        json.writeNumberField("subjects", cells.subjects());
        json.writeNumberField("under_k", cells.underK());
        json.writeNumberField("unique", cells.unique());
        json.writeEndObject();
    }

    private void counts(JsonGenerator json) throws IOException {
        json.writeObjectFieldStart("sittings");
        json.writeNumberField("in", reconciliation.in());
        json.writeNumberField("sent", reconciliation.sent());
        numbers("rejected", reconciliation.rejected(), json);
        json.writeEndObject();
        json.writeObjectFieldStart("forms");
        json.writeNumberField("sent", reconciliation.forms());
        numbers("rejected", reconciliation.formsRejected(), json);
        json.writeNumberField("answersHeldBack", shipment.counts().answersHeldBack());
        json.writeEndObject();
        json.writeObjectFieldStart("episodes");
        json.writeNumberField("sent", shipment.counts().episodes());
        json.writeNumberField("notShared", shipment.counts().episodesNotShared());
        json.writeNumberField("subjects", shipment.counts().subjects());
        json.writeEndObject();
    }

    private static void numbers(String name, Map<String, ? extends Number> counts, JsonGenerator json)
            throws IOException {
        json.writeObjectFieldStart(name);
        for (Map.Entry<String, ? extends Number> count : counts.entrySet()) {
            json.writeNumberField(count.getKey(), count.getValue().longValue());
        }
        json.writeEndObject();
    }

    private void columns(JsonGenerator json) throws IOException {
        json.writeArrayFieldStart("columns");
        for (ColumnDisposition column : columns) {
            if (!column.known()) {
                continue; // a heading of the clinic's own may itself tell of a person
            }
            json.writeStartObject();
            json.writeStringField("table", column.table());
            json.writeStringField("column", column.column());
            json.writeBooleanField("leaves", column.leaves());
            json.writeStringField("becomes", column.becomes());
            json.writeEndObject();
        }
        json.writeEndArray();
        json.writeNumberField(
                "otherColumnsThatStay", columns.stream().filter(c -> !c.known()).count());
        numbers("valuesLeftBlank", shipment.counts().blanked(), json);
    }

    private void definitions(JsonGenerator json) throws IOException {
        json.writeArrayFieldStart("definitions");
        for (Instrument instrument : shipment.instruments()) {
            json.writeString(instrument.definition());
        }
        json.writeEndArray();
    }

    private void thresholds(JsonGenerator json) throws IOException {
        json.writeArrayFieldStart("thresholds");
        for (ThresholdsUsed.Used used : ThresholdsUsed.in(shipment)) {
            Threshold threshold = used.threshold();
            json.writeStartObject();
            json.writeStringField("instrument", used.instrument().definition());
            json.writeStringField("scale", threshold.scale().value());
            json.writeStringField("id", threshold.id());
            json.writeStringField("kind", threshold.kind().code());
            if (threshold.value().isPresent()) {
                json.writeNumberField("value", threshold.value().getAsDouble());
            }
            json.writeStringField("population", threshold.population());
            json.writeStringField("method", threshold.method());
            json.writeStringField("standing", threshold.provenance().standing().code());
            String key = threshold.provenance().source();
            json.writeStringField(
                    "source",
                    used.instrument().source(key).map(Source::inOneLine).orElse(key));
            json.writeEndObject();
        }
        json.writeEndArray();
    }

    /** By table, the records that stand so with the receiver, whenever they came to. */
    private static Map<String, Integer> counts(SentRecords sent, Set<SentRecords.State> states) {
        Map<String, Integer> counts = new TreeMap<>();
        sent.records().forEach((key, record) -> {
            if (states.contains(record.state())) {
                counts.merge(key.table(), 1, Integer::sum);
            }
        });
        return counts;
    }

    private String howToLoad() {
        String whole =
                "Load the files in the order listed. An upload is whole: what has the same key replaces what is there.";
        return switch (settings.format()) {
            case FHIR ->
                whole
                        + (settings.lines()
                                ? " One resource a line, for a bulk import by id. Take these files or the Bundles of another"
                                        + " upload, never both. What is taken back comes as transactions (withdrawn)."
                                : " Each Bundle is one transaction. Take these files or the lines of another upload, never"
                                        + " both.");
            case CSV -> whole + " Delete what the table withdrawn lists, where there is one.";
            case SDTM, ADAM -> whole + " Delete what the dataset WITHDRWN lists, where there is one; it is ours.";
        };
    }

    private static void fields(String name, List<DictionaryEntry> fields, JsonGenerator json) throws IOException {
        json.writeArrayFieldStart(name);
        for (DictionaryEntry field : fields) {
            json.writeStartObject();
            json.writeStringField("table", field.file());
            json.writeStringField("field", field.field());
            json.writeStringField("meaning", field.label());
            json.writeEndObject();
        }
        json.writeEndArray();
    }

    private static void files(List<StagedFolder.Written> files, JsonGenerator json) throws IOException {
        json.writeArrayFieldStart("files");
        for (StagedFolder.Written file : files) {
            json.writeStartObject();
            json.writeStringField("name", file.name());
            json.writeNumberField("records", file.records());
            json.writeNumberField("bytes", file.bytes());
            json.writeStringField("sha256", file.sha256());
            json.writeEndObject();
        }
        json.writeEndArray();
    }
}
