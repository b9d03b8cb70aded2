package lumbrical.cdisc;

import java.io.BufferedWriter;
import java.io.OutputStreamWriter;
import java.io.Writer;
import java.nio.charset.StandardCharsets;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.Set;
import lumbrical.deidentify.DeidentifiedDataset;
import lumbrical.deidentify.DeidentifiedEpisode;
import lumbrical.deidentify.SentRecords;
import lumbrical.output.CsvTableWriter;
import lumbrical.output.DataFiles;
import lumbrical.output.DictionaryEntry;
import lumbrical.output.OutputColumn;
import lumbrical.output.OutputTable;
import lumbrical.output.Value;

/** Writes the CDISC files of a shipment. */
public final class CdiscFiles {
    /** Variables whose text a user wrote; all others are words of ours, such as -P7D. */
    private static final Set<String> FROM_INPUT = Set.of("VISIT", "AVISIT");

    private final DeidentifiedDataset shipment;
    private final boolean guard;
    private final DataFiles files;
    private final DatasetJson json;
    private final List<DictionaryEntry> dictionary = new ArrayList<>();

    private CdiscFiles(DeidentifiedDataset shipment, String program, boolean guard, DataFiles files) {
        this.shipment = shipment;
        this.guard = guard;
        this.files = files;
        this.json = new DatasetJson(shipment.sender().study(), shipment.asOf(), program);
    }

    /**
     * Writes QS and SUPPQS.
     *
     * @param program name and version of the program, with a space between
     * @param guard whether texts in CSV that start like a formula get an apostrophe
     * @return what the variables hold
     */
    public static List<DictionaryEntry> writeSdtm(
            DeidentifiedDataset shipment, String program, boolean guard, DataFiles files) {
        CdiscFiles cdisc = new CdiscFiles(shipment, program, guard, files);
        SdtmQs sdtm = new SdtmQs(shipment);
        cdisc.write(sdtm.qs());
        cdisc.write(sdtm.suppqs());
        return List.copyOf(cdisc.dictionary);
    }

    /**
     * Writes ADHAND.
     *
     * @param program name and version of the program, with a space between
     * @param guard whether texts in CSV that start like a formula get an apostrophe
     * @return what the variables hold
     */
    public static List<DictionaryEntry> writeAdam(
            DeidentifiedDataset shipment, String program, boolean guard, DataFiles files) {
        CdiscFiles cdisc = new CdiscFiles(shipment, program, guard, files);
        cdisc.write(new AdamHand(shipment).dataset());
        return List.copyOf(cdisc.dictionary);
    }

    /**
     * Writes keys of what was sent and is taken back, as a dataset that is not of the standard.
     *
     * @param program name and version of the program, with a space between
     * @param guard whether texts in CSV that start like a formula get an apostrophe
     * @return what the variables hold
     */
    public static List<DictionaryEntry> writeWithdrawn(
            DeidentifiedDataset shipment, SentRecords withdrawn, String program, boolean guard, DataFiles files) {
        CdiscFiles cdisc = new CdiscFiles(shipment, program, guard, files);
        cdisc.write(Withdrawn.dataset(shipment, withdrawn), "withdrawn");
        return List.copyOf(cdisc.dictionary);
    }

    static String subject(DeidentifiedDataset shipment, DeidentifiedEpisode episode) {
        return subject(shipment, episode.subject());
    }

    static String subject(DeidentifiedDataset shipment, String subject) {
        return shipment.sender().study() + "-" + shipment.sender().site() + "-" + subject;
    }

    private void write(Dataset dataset) {
        write(dataset, dataset.name().toLowerCase(Locale.ROOT));
    }

    private void write(Dataset dataset, String file) {
        String name = "data/" + file;
        files.file(name + ".json", out -> json.write(dataset, out));
        files.file(name + ".ndjson", out -> json.writeLines(dataset, out));
        files.file(name + ".csv", out -> {
            Writer writer = new BufferedWriter(new OutputStreamWriter(out, StandardCharsets.UTF_8), 1 << 16);
            CsvTableWriter<Dataset.Row> csv = new CsvTableWriter<>(table(dataset), writer, guard);
            long[] records = new long[1];
            dataset.records().forEach(record -> {
                csv.write(record);
                records[0]++;
            });
            csv.flush();
            writer.flush();
            return records[0];
        });
        for (Variable variable : dataset.variables()) {
            dictionary.add(new DictionaryEntry(
                    dataset.name(),
                    variable.name(),
                    variable.label(),
                    variable.type().dataType(),
                    variable.key() > 0 ? "key " + variable.key() : "",
                    variable.origin()));
        }
    }

    private static OutputTable<Dataset.Row> table(Dataset dataset) {
        List<OutputColumn<Dataset.Row>> columns = new ArrayList<>();
        for (Variable variable : dataset.variables()) {
            int at = columns.size();
            boolean given = FROM_INPUT.contains(variable.name());
            columns.add(new OutputColumn<>(
                    variable.name(),
                    variable.label(),
                    OutputColumn.Kind.TEXT,
                    record -> value(record.cells().get(at), given)));
        }
        return new OutputTable<>(dataset.name(), columns);
    }

    private static Value value(Dataset.Cell cell, boolean given) {
        if (cell instanceof Dataset.Cell.Text text) {
            return given ? Value.text(text.text()) : Value.word(text.text());
        }
        return cell instanceof Dataset.Cell.Number number ? Value.number(number.value()) : Value.BLANK;
    }
}
