package lumbrical.cdisc;

import java.io.BufferedWriter;
import java.io.IOException;
import java.io.OutputStream;
import java.io.OutputStreamWriter;
import java.io.Writer;
import java.nio.charset.StandardCharsets;
import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Set;
import java.util.function.Predicate;
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
    private final CdiscSettings settings;
    private final DataFiles files;
    private final DatasetJson json;
    private final Map<DatasetFacts, String> written = new LinkedHashMap<>();

    /**
     * How to write.
     *
     * @param program name and version of the program, with a space between
     * @param guard whether texts in CSV that start like a formula get an apostrophe
     * @param ending what {@code files} adds to the name of a file, such as {@code .gz}; empty = nothing
     */
    public record CdiscSettings(String program, boolean guard, String ending) {}

    /**
     * What was written.
     *
     * @param dictionary what the variables hold
     * @param left those of which at least one record has a value, and the description
     * @param notHeld variables of the standard that this program does not hold, and the receiver has to add
     */
    public record Written(List<DictionaryEntry> dictionary, List<DictionaryEntry> left, List<DictionaryEntry> notHeld) {
        /** Copies the lists. */
        public Written {
            dictionary = List.copyOf(dictionary);
            left = List.copyOf(left);
            notHeld = List.copyOf(notHeld);
        }
    }

    private CdiscFiles(DeidentifiedDataset shipment, CdiscSettings settings, DataFiles files) {
        this.shipment = shipment;
        this.settings = settings;
        this.files = files;
        this.json = new DatasetJson(shipment.sender().study(), shipment.asOf(), settings.program());
    }

    /**
     * Writes DM, SUPPDM if it has a record, QS, SUPPQS and their description.
     *
     * @param withdrawn keys of what was sent and is taken back, written as a dataset that is not of the standard, if there are any
     */
    public static Written writeSdtm(
            DeidentifiedDataset shipment, SentRecords withdrawn, CdiscSettings settings, DataFiles files) {
        CdiscFiles cdisc = new CdiscFiles(shipment, settings, files);
        Subjects subjects = new Subjects(shipment);
        SdtmQs sdtm = new SdtmQs(shipment);
        Dataset suppdm = subjects.suppdm();
        cdisc.write(
                List.of(subjects.dm(), suppdm, sdtm.qs(), sdtm.suppqs()),
                facts -> facts.records() > 0 || !facts.dataset().equals(suppdm)); // none has no file
        return cdisc.finish(withdrawn, "SDTMIG", "3.4", "Tabulation");
    }

    /**
     * Writes ADSL, ADHAND and their description.
     *
     * @param withdrawn keys of what was sent and is taken back, written as a dataset that is not of the standard, if there are any
     */
    public static Written writeAdam(
            DeidentifiedDataset shipment, SentRecords withdrawn, CdiscSettings settings, DataFiles files) {
        CdiscFiles cdisc = new CdiscFiles(shipment, settings, files);
        cdisc.write(List.of(new Subjects(shipment).adsl(), new AdamHand(shipment).dataset()), facts -> true);
        return cdisc.finish(withdrawn, "ADaMIG", "1.3", "Analysis");
    }

    private Written finish(SentRecords withdrawn, String standard, String version, String purpose) {
        if (!withdrawn.records().isEmpty()) {
            DatasetFacts facts = DatasetFacts.of(Withdrawn.dataset(shipment, withdrawn));
            written.put(facts, "withdrawn");
            write(List.of(facts), new EpisodePass(), taker -> {});
        }
        DefineXml.Described described = new DefineXml.Described(
                standard,
                version,
                purpose,
                shipment.sender().study(),
                shipment.asOf(),
                settings.program(),
                ".json" + settings.ending());
        files.file("data/" + DefineXml.FILE, out -> DefineXml.write(described, written, out));
        List<DictionaryEntry> dictionary = new ArrayList<>();
        List<DictionaryEntry> left = new ArrayList<>();
        List<DictionaryEntry> notHeld = new ArrayList<>();
        for (DatasetFacts facts : written.keySet()) {
            for (Variable variable : facts.dataset().variables()) {
                DictionaryEntry entry = entry(facts.dataset(), variable);
                dictionary.add(entry);
                if (facts.held(variable).longest() > 0) {
                    left.add(entry);
                }
                if (!variable.held()) {
                    notHeld.add(entry);
                }
            }
        }
        DictionaryEntry description = new DictionaryEntry(
                DefineXml.FILE,
                "all",
                "Datasets, variables, types, origins and code lists",
                "Define-XML 2.1",
                "",
                "the datasets beside it");
        dictionary.add(description);
        left.add(description);
        return new Written(dictionary, left, notHeld);
    }

    private static DictionaryEntry entry(Dataset dataset, Variable variable) {
        return new DictionaryEntry(
                dataset.name(),
                variable.name(),
                variable.label(),
                variable.type().dataType(),
                variable.key() > 0 ? "key " + variable.key() : "",
                variable.origin());
    }

    static String subject(DeidentifiedDataset shipment, DeidentifiedEpisode episode) {
        return subject(shipment, episode.subject());
    }

    static String subject(DeidentifiedDataset shipment, String subject) {
        return shipment.sender().study() + "-" + shipment.sender().site() + "-" + subject;
    }

    /** Writes those datasets of which the facts say so. */
    private void write(List<Dataset> datasets, Predicate<DatasetFacts> wanted) {
        List<DatasetFacts> all = DatasetFacts.of(datasets, shipment.contents()).stream()
                .filter(wanted)
                .toList();
        all.forEach(facts -> written.put(facts, facts.dataset().name().toLowerCase(Locale.ROOT)));
        write(all, new EpisodePass(), shipment.contents());
    }

    /**
     * Writes the files of all datasets side by side on one pass, so that each episode and each record is made once. What is begun first is
     * ended last, and listed so: the last dataset begins.
     */
    private void write(List<DatasetFacts> remaining, EpisodePass pass, DeidentifiedDataset.Contents episodes) {
        if (remaining.isEmpty()) {
            pass.through(episodes);
            return;
        }
        DatasetFacts last = remaining.get(remaining.size() - 1);
        String name = "data/" + written.get(last);
        files.file(name + ".csv", table -> {
            files.file(name + ".ndjson", lines -> {
                files.file(name + ".json", whole -> {
                    RecordFiles records = new RecordFiles(last, whole, lines, table);
                    pass.add(last.dataset(), records::add);
                    write(remaining.subList(0, remaining.size() - 1), pass, episodes);
                    return records.end();
                });
                return last.records();
            });
            return last.records();
        });
    }

    /** The three files of a dataset. */
    private final class RecordFiles {
        private final DatasetFacts facts;
        private final DatasetJson.Records records;
        private final Writer writer;
        private final CsvTableWriter<Dataset.Row> csv;

        RecordFiles(DatasetFacts facts, OutputStream whole, OutputStream lines, OutputStream table) throws IOException {
            this.facts = facts;
            this.records = json.begin(facts.dataset(), facts.records(), whole, lines);
            this.writer = new BufferedWriter(new OutputStreamWriter(table, StandardCharsets.UTF_8), 1 << 16);
            this.csv = new CsvTableWriter<>(table(facts.dataset()), writer, settings.guard());
        }

        void add(Dataset.Row record) {
            records.add(record);
            csv.write(record);
        }

        /** How many records there are. */
        long end() throws IOException {
            csv.flush();
            writer.flush();
            records.end();
            return facts.records();
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
