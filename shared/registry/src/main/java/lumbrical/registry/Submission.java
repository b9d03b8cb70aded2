package lumbrical.registry;

import java.io.BufferedWriter;
import java.io.FilterOutputStream;
import java.io.IOException;
import java.io.OutputStream;
import java.io.OutputStreamWriter;
import java.io.UncheckedIOException;
import java.io.Writer;
import java.nio.charset.StandardCharsets;
import java.nio.file.Path;
import java.util.Collection;
import java.util.List;
import java.util.Map;
import java.util.function.Consumer;
import java.util.function.Function;
import java.util.zip.GZIPOutputStream;
import lumbrical.cdisc.CdiscFiles;
import lumbrical.deidentify.DeidentifiedDataset;
import lumbrical.deidentify.SendingLog;
import lumbrical.deidentify.SentRecords;
import lumbrical.deidentify.Withheld;
import lumbrical.fhir.ExternalCodes;
import lumbrical.fhir.FhirFiles;
import lumbrical.output.CsvTableWriter;
import lumbrical.output.DataFiles;
import lumbrical.output.DictionaryEntry;
import lumbrical.output.OutputColumn;
import lumbrical.output.OutputTable;
import lumbrical.output.StagedFolder;
import lumbrical.output.Value;

/** Writes the folder that is sent to a registry. */
public final class Submission {
    /** A file that every such folder holds. */
    public static final String MARK = Manifest.NAME;

    private static final OutputTable<DictionaryEntry> DICTIONARY = new OutputTable<>(
            "Dictionary",
            List.of(
                    word("file", "File or dataset", DictionaryEntry::file),
                    text("field", "Name in it", DictionaryEntry::field),
                    text("label", "What it holds", DictionaryEntry::label),
                    word("type", "Kind of values", DictionaryEntry::type),
                    text("values", "Allowed values or range", DictionaryEntry::values),
                    text("from", "Where it comes from", DictionaryEntry::from)));

    /** Columns of the list that a trial run shows. */
    public static final OutputTable<ColumnDisposition> FATES = new OutputTable<>(
            "Columns",
            List.of(
                    word("table", "responses or episodes", ColumnDisposition::table),
                    new OutputColumn<>("column", "Heading", OutputColumn.Kind.TEXT, f -> Value.text(f.column())),
                    word("leaves", "yes or no", f -> f.leaves() ? "yes" : "no"),
                    word("becomes", "In what form, or why it stays", ColumnDisposition::becomes),
                    text("examples", "Values as they would leave, masked", f -> String.join(" ", f.examples()))));

    private Submission() {}

    private static <R> OutputColumn<R> word(String name, String meaning, Function<R, String> of) {
        return new OutputColumn<>(name, meaning, OutputColumn.Kind.TEXT, r -> Value.word(of.apply(r)));
    }

    private static <R> OutputColumn<R> text(String name, String meaning, Function<R, String> of) {
        return new OutputColumn<>(name, meaning, OutputColumn.Kind.TEXT, r -> Value.text(of.apply(r)));
    }

    /**
     * How to write.
     *
     * @param program name and version of the program
     * @param format the form
     * @param acceptDisclosure whether people in groups smaller than the limit may be sent all the same
     * @param formulaGuard whether texts from the input that start like a formula get an apostrophe in CSV
     * @param lines for FHIR, one resource a line instead of Bundles
     * @param gzip whether the files of data are compressed
     * @param codes for FHIR, codes of other systems that the user adds
     * @param before what the receiver was sent before in this format
     */
    public record SubmissionSettings(
            String program,
            RegistryFormat format,
            boolean acceptDisclosure,
            boolean formulaGuard,
            boolean lines,
            boolean gzip,
            ExternalCodes codes,
            SentRecords before) {}

    /**
     * How an upload differs from the one before.
     *
     * @param amended by table, how many records have another content
     * @param withdrawn by table, how many records are taken back for the first time
     */
    public record Corrections(Map<String, Integer> amended, Map<String, Integer> withdrawn) {
        /** Copies the maps. */
        public Corrections {
            amended = Map.copyOf(amended);
            withdrawn = Map.copyOf(withdrawn);
        }
    }

    /**
     * What a folder written earlier lists as sent.
     *
     * @param format the form of the upload that follows it
     * @throws lumbrical.tabular.UnreadableInputException if it was written in another form, or its list is not as it was written
     */
    public static SentRecords sent(Path folder, RegistryFormat format) {
        ManifestCheck.require(folder, format, SentTable.NAME);
        return SentTable.read(folder);
    }

    /** What becomes of each column of the input. */
    public static List<ColumnDisposition> fates(DeidentifiedDataset shipment, Intake intake, RegistryFormat format) {
        return ColumnDispositions.of(shipment, intake, format);
    }

    /**
     * Where every sitting went or would go.
     *
     * @throws IllegalStateException if the counts do not add up
     */
    public static Reconciliation reconcile(DeidentifiedDataset shipment, Intake intake) {
        return Reconciliation.of(shipment, intake);
    }

    /**
     * Fills the folder: data, manifest, what was rejected, data dictionary.
     *
     * @param keep keeps what the receiver knows after this, which a later submission needs; called when all is written and before the
     *     folder appears
     * @return how it differs from the submission before
     * @throws IllegalStateException if sittings in are not sittings sent and rejected
     * @throws IllegalArgumentException if people are in groups smaller than the limit and that is not accepted, or the data were
     *     prepared by a profile that names columns for which the form has no place (see {@link RegistryFormat#narrowed})
     */
    public static Corrections write(
            DeidentifiedDataset shipment,
            Intake intake,
            SubmissionSettings settings,
            StagedFolder folder,
            Consumer<SentRecords> keep) {
        if (!shipment.disclosure().withinLimit() && !settings.acceptDisclosure()) {
            throw new IllegalArgumentException("People in too small groups: accept that, or leave values blank");
        }
        if (!settings.format().narrowed(shipment.profile()).equals(shipment.profile())) {
            throw new IllegalArgumentException("The profile names columns that "
                    + settings.format().code() + " does not send, so too much was counted: narrow it to the form");
        }
        Reconciliation reconciliation = Reconciliation.of(shipment, intake);
        SendingLog log = new SendingLog(settings.before());
        Manifest manifest = new Manifest(
                shipment, settings, reconciliation, ColumnDispositions.of(shipment, intake, settings.format()));
        folder.fill(staging -> {
            Fields fields = data(shipment, settings, settings.gzip() ? compressed(staging) : staging, log);
            SentRecords after = log.after();
            staging.file("dictionary.csv", out -> table(DICTIONARY, fields.dictionary(), settings, out));
            List<Withheld> rejected = intake.withAll(shipment.withheld()).stream()
                    .filter(Withheld::told)
                    .toList();
            staging.file("rejected.csv", out -> table(RejectedTable.of(intake.files()), rejected, settings, out));
            staging.file(
                    SentTable.NAME,
                    out -> table(SentTable.TABLE, after.records().entrySet(), settings, out));
            List<StagedFolder.Written> files = staging.written();
            staging.file(Manifest.NAME, out -> manifest.write(files, fields, after, out));
            keep.accept(after);
        });
        return new Corrections(log.amended(), log.withdrawnNow());
    }

    /** The same files, compressed by gzip, with its ending. */
    private static DataFiles compressed(DataFiles files) {
        return (name, content) -> files.file(name + ".gz", out -> {
            GZIPOutputStream gzip = new GZIPOutputStream(out, 1 << 16);
            long records = content.writeTo(new FilterOutputStream(gzip) {
                @Override
                public void write(byte[] bytes, int from, int length) throws IOException {
                    out.write(bytes, from, length);
                }

                @Override
                public void close() throws IOException {
                    flush(); // the file is closed by whoever opened it
                }
            });
            gzip.finish();
            return records;
        });
    }

    /**
     * The fields of the data.
     *
     * @param dictionary what they hold
     * @param left those that hold something
     * @param notHeld those that the standard has and this program cannot fill
     */
    record Fields(List<DictionaryEntry> dictionary, List<DictionaryEntry> left, List<DictionaryEntry> notHeld) {}

    private static Fields data(
            DeidentifiedDataset shipment, SubmissionSettings settings, DataFiles files, SendingLog log) {
        if (settings.format() == RegistryFormat.FHIR) {
            FhirFiles.Written written = FhirFiles.write(
                    shipment, new FhirFiles.FhirSettings(settings.lines(), settings.codes()), log, files);
            return new Fields(written.dictionary(), written.left(), List.of());
        }
        if (settings.format() == RegistryFormat.CSV) {
            SentContent.ofCsv(shipment, log);
            List<DictionaryEntry> dictionary =
                    CsvFiles.write(shipment, settings.formulaGuard(), log.withdrawn(), files);
            return new Fields(dictionary, dictionary, List.of()); // a table holds every field as a column
        }
        SentContent.ofCdisc(shipment, log);
        CdiscFiles.CdiscSettings cdisc =
                new CdiscFiles.CdiscSettings(settings.program(), settings.formulaGuard(), settings.gzip() ? ".gz" : "");
        CdiscFiles.Written written = settings.format() == RegistryFormat.SDTM
                ? CdiscFiles.writeSdtm(shipment, log.withdrawn(), cdisc, files)
                : CdiscFiles.writeAdam(shipment, log.withdrawn(), cdisc, files);
        return new Fields(written.dictionary(), written.left(), written.notHeld());
    }

    private static <R> long table(
            OutputTable<R> table, Collection<R> rows, SubmissionSettings settings, OutputStream out) {
        Writer writer = new BufferedWriter(new OutputStreamWriter(out, StandardCharsets.UTF_8), 1 << 16);
        CsvTableWriter<R> csv = new CsvTableWriter<>(table, writer, settings.formulaGuard());
        rows.forEach(csv::write);
        csv.flush();
        try {
            writer.flush();
        } catch (IOException e) {
            throw new UncheckedIOException(e);
        }
        return rows.size();
    }
}
