package lumbrical.registry;

import java.io.BufferedWriter;
import java.io.OutputStreamWriter;
import java.io.Writer;
import java.nio.charset.StandardCharsets;
import java.util.ArrayList;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.function.BiConsumer;
import java.util.function.Consumer;
import java.util.stream.Stream;
import lumbrical.change.BeyondError;
import lumbrical.change.ReachesMcid;
import lumbrical.change.Verdict;
import lumbrical.change.VerdictReason;
import lumbrical.deidentify.DeidentifiedDataset;
import lumbrical.deidentify.DeidentifiedEpisode;
import lumbrical.deidentify.DeidentifiedForm;
import lumbrical.deidentify.Profile;
import lumbrical.deidentify.SentRecords;
import lumbrical.instrument.Column;
import lumbrical.instrument.InstrumentId;
import lumbrical.output.CsvTableWriter;
import lumbrical.output.DataFiles;
import lumbrical.output.DictionaryEntry;
import lumbrical.output.OutputColumn;
import lumbrical.output.OutputTable;
import lumbrical.scoring.Reason;
import lumbrical.scoring.ScoreResult;

/** The CSV form: episodes, responses, scores and changes, each with a Table Schema beside it. */
final class CsvFiles {
    private final DeidentifiedDataset shipment;
    private final boolean guard;
    private final DataFiles files;
    private final List<DictionaryEntry> dictionary = new ArrayList<>();

    private CsvFiles(DeidentifiedDataset shipment, boolean guard, DataFiles files) {
        this.shipment = shipment;
        this.guard = guard;
        this.files = files;
    }

    /**
     * Writes the files and says what their fields hold.
     *
     * @param withdrawn what is taken back; without any there is no table of it
     */
    static List<DictionaryEntry> write(
            DeidentifiedDataset shipment, boolean guard, SentRecords withdrawn, DataFiles files) {
        CsvFiles csv = new CsvFiles(shipment, guard, files);
        CsvTables tables = new CsvTables(shipment.profile());
        csv.table(
                "episodes",
                tables.episodes(),
                List.of("episode"),
                "not known or not sent",
                (e, rows) -> rows.accept(e));
        csv.table("responses", tables.responses(), List.of("form", "item"), "no allowed response", CsvFiles::responses);
        csv.table("scores", tables.scores(), List.of("score_id"), "not scored or not applicable", CsvFiles::scores);
        csv.table(
                "change",
                tables.changes(),
                List.of("score_id"),
                "not assessable or not known",
                (e, rows) -> scores(e, row -> {
                    if (row.score().change().isPresent()) {
                        rows.accept(row);
                    }
                }));
        if (!withdrawn.records().isEmpty()) {
            List<WithdrawnTable.Withdrawn> rows = WithdrawnTable.rows(shipment.sender(), withdrawn);
            csv.write("withdrawn", WithdrawnTable.columns(), List.of("table", "key"), "never blank", rows::forEach);
        }
        return csv.dictionary;
    }

    private static void responses(DeidentifiedEpisode episode, Consumer<CsvTables.ResponseRow> rows) {
        for (DeidentifiedForm form : episode.forms()) {
            for (Column column : form.instrument().columns()) {
                rows.accept(new CsvTables.ResponseRow(episode, form, column));
            }
        }
    }

    private static void scores(DeidentifiedEpisode episode, Consumer<CsvTables.SentScore> rows) {
        for (DeidentifiedForm form : episode.forms()) {
            form.scores().forEach(score -> rows.accept(new CsvTables.SentScore(episode, form, score)));
        }
    }

    private <R> void table(
            String name,
            List<OutputColumn<R>> columns,
            List<String> keys,
            String missing,
            BiConsumer<DeidentifiedEpisode, Consumer<R>> rows) {
        write(name, columns, keys, missing, row -> shipment.contents().forEach(episode -> rows.accept(episode, row)));
    }

    private <R> void write(
            String name, List<OutputColumn<R>> columns, List<String> keys, String missing, Consumer<Consumer<R>> rows) {
        TableSchema schema = new TableSchema(keys, allowed(), missing);
        files.file("data/" + name + ".schema.json", out -> schema.write(columns, out));
        files.file("data/" + name + ".csv", out -> {
            Writer writer = new BufferedWriter(new OutputStreamWriter(out, StandardCharsets.UTF_8), 1 << 16);
            CsvTableWriter<R> csv = new CsvTableWriter<>(new OutputTable<>(name, columns), writer, guard);
            long[] count = new long[1];
            rows.accept(row -> {
                csv.write(row);
                count[0]++;
            });
            csv.flush();
            writer.flush();
            return count[0];
        });
        for (OutputColumn<R> column : columns) {
            dictionary.add(new DictionaryEntry(
                    name + ".csv",
                    column.name(),
                    column.meaning(),
                    column.kind().schemaType(),
                    String.join(" ", schema.values(column.name())),
                    keys.contains(column.name()) ? "key" : ""));
        }
    }

    private Map<String, List<String>> allowed() {
        Map<String, List<String>> allowed = new HashMap<>();
        allowed.put("treated_side", List.of("right", "left"));
        allowed.put("side", List.of("right", "left", "both"));
        allowed.put("status", List.of("answered", "not-answered", "not-allowed", "withheld"));
        allowed.put("better", List.of("lower", "higher"));
        allowed.put("used", List.of("yes", "no"));
        allowed.put("gaps_could_change_verdict", List.of("yes", "no"));
        allowed.put(
                "beyond_error",
                Stream.of(BeyondError.values()).map(BeyondError::code).toList());
        allowed.put(
                "reaches_mcid",
                Stream.of(ReachesMcid.values()).map(ReachesMcid::code).toList());
        allowed.put(
                "verdict_reason",
                Stream.of(VerdictReason.values()).map(VerdictReason::code).toList());
        allowed.put("use", List.of("baseline", "follow-up"));
        allowed.put(
                "outcome",
                Stream.of(ScoreResult.Outcome.values())
                        .map(ScoreResult.Outcome::code)
                        .toList());
        allowed.put("reason", Stream.of(Reason.values()).map(Reason::code).toList());
        allowed.put("verdict", Stream.of(Verdict.values()).map(Verdict::code).toList());
        allowed.put(
                "instrument",
                shipment.instruments().stream()
                        .map(i -> i.id())
                        .map(InstrumentId::value)
                        .toList());
        for (Profile.AllowedColumn column : shipment.profile().columns()) {
            if (!column.values().isEmpty()) {
                allowed.put(column.name(), column.values());
            }
        }
        return allowed;
    }
}
