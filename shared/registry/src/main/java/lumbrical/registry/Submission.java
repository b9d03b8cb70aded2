package lumbrical.registry;

import java.io.BufferedWriter;
import java.io.IOException;
import java.io.OutputStream;
import java.io.OutputStreamWriter;
import java.io.UncheckedIOException;
import java.io.Writer;
import java.nio.charset.StandardCharsets;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.function.Function;
import lumbrical.cdisc.CdiscFiles;
import lumbrical.deidentify.DeidentifiedDataset;
import lumbrical.deidentify.Withheld;
import lumbrical.fhir.ExternalCodes;
import lumbrical.fhir.FhirFiles;
import lumbrical.output.CsvTableWriter;
import lumbrical.output.DictionaryEntry;
import lumbrical.output.OutputColumn;
import lumbrical.output.OutputTable;
import lumbrical.output.StagedFolder;
import lumbrical.output.Value;

/** Writes the folder that is sent to a registry. */
public final class Submission {
    /** A file that every such folder holds. */
    public static final String MARK = Manifest.NAME;

    private static final int FORMS_PER_BUNDLE = 200;

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
     * @param codes for FHIR, codes of other systems that the user adds
     * @param before for FHIR, a folder sent earlier, whose forms become amended where they differ now
     */
    public record SubmissionSettings(
            String program,
            RegistryFormat format,
            boolean acceptDisclosure,
            boolean formulaGuard,
            boolean lines,
            ExternalCodes codes,
            Optional<Path> before) {}

    /** What becomes of each column of the input. */
    public static List<ColumnDisposition> fates(DeidentifiedDataset shipment, Intake intake) {
        return ColumnDispositions.of(shipment, intake);
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
     * @param keep keeps what is needed to match a later submission; called when all is written and before the folder appears
     * @return for FHIR, how many resources of an earlier folder are not sent now
     * @throws IllegalStateException if sittings in are not sittings sent and rejected
     * @throws IllegalArgumentException if people are in groups smaller than the limit and that is not accepted
     */
    public static int write(
            DeidentifiedDataset shipment,
            Intake intake,
            SubmissionSettings settings,
            StagedFolder folder,
            Runnable keep) {
        if (!shipment.disclosure().withinLimit() && !settings.acceptDisclosure()) {
            throw new IllegalArgumentException("People in too small groups: accept that, or leave values blank");
        }
        Reconciliation reconciliation = Reconciliation.of(shipment, intake);
        Manifest manifest = new Manifest(shipment, settings, reconciliation, ColumnDispositions.of(shipment, intake));
        int[] notSentNow = new int[1];
        folder.fill(staging -> {
            List<DictionaryEntry> left = new ArrayList<>();
            List<DictionaryEntry> dictionary = data(shipment, settings, staging, notSentNow, left);
            staging.file("dictionary.csv", out -> table(DICTIONARY, dictionary, settings, out));
            List<Withheld> rejected = intake.withAll(shipment.withheld()).stream()
                    .filter(Withheld::told)
                    .toList();
            staging.file("rejected.csv", out -> table(RejectedTable.of(intake.files()), rejected, settings, out));
            List<StagedFolder.Written> files = staging.written();
            staging.file(Manifest.NAME, out -> manifest.write(files, left, out));
            keep.run();
        });
        return notSentNow[0];
    }

    private static List<DictionaryEntry> data(
            DeidentifiedDataset shipment,
            SubmissionSettings settings,
            StagedFolder.Staging staging,
            int[] notSentNow,
            List<DictionaryEntry> left) {
        List<DictionaryEntry> dictionary =
                switch (settings.format()) {
                    case CSV -> CsvFiles.write(shipment, settings.formulaGuard(), staging);
                    case SDTM -> CdiscFiles.writeSdtm(shipment, settings.program(), settings.formulaGuard(), staging);
                    case ADAM -> CdiscFiles.writeAdam(shipment, settings.program(), settings.formulaGuard(), staging);
                    case FHIR -> fhir(shipment, settings, staging, notSentNow, left);
                };
        if (settings.format() != RegistryFormat.FHIR) {
            left.addAll(dictionary); // a table holds every field of its dictionary as a column
        }
        return dictionary;
    }

    private static List<DictionaryEntry> fhir(
            DeidentifiedDataset shipment,
            SubmissionSettings settings,
            StagedFolder.Staging staging,
            int[] notSentNow,
            List<DictionaryEntry> left) {
        FhirFiles.Written written = FhirFiles.write(
                shipment,
                new FhirFiles.FhirSettings(
                        settings.lines(),
                        FORMS_PER_BUNDLE,
                        settings.codes(),
                        settings.before().map(SentTable::read).orElse(Map.of()),
                        true),
                staging);
        staging.file(SentTable.NAME, out -> table(SentTable.TABLE, written.sent(), settings, out));
        notSentNow[0] = written.notSentNow();
        left.addAll(written.left());
        return written.dictionary();
    }

    private static <R> long table(OutputTable<R> table, List<R> rows, SubmissionSettings settings, OutputStream out) {
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
