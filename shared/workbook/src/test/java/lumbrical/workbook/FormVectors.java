package lumbrical.workbook;

import java.io.IOException;
import java.io.UncheckedIOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.TreeMap;
import java.util.stream.Stream;
import lumbrical.instrument.Column;
import lumbrical.instrument.Instrument;
import lumbrical.instrument.Range;
import lumbrical.instrument.Side;
import lumbrical.intake.FormScoreColumn;
import lumbrical.scoring.Response;
import lumbrical.scoring.Responses;
import lumbrical.scoring.ScoreResult;
import lumbrical.scoring.ScoringPlan;
import org.apache.commons.csv.CSVFormat;
import org.apache.commons.csv.CSVParser;
import org.apache.commons.csv.CSVRecord;
import org.apache.poi.ss.usermodel.Cell;
import org.apache.poi.ss.usermodel.Row;
import org.apache.poi.ss.usermodel.Sheet;
import org.apache.poi.xssf.usermodel.XSSFWorkbook;

/** The shipped vectors that an entry form can hold: all but those of a run's options, which a form does not know. */
final class FormVectors {
    private static final Path FOLDER = Path.of("..", "..", "test-vectors", "vectors");
    static final double TOLERANCE = 1e-6;

    private FormVectors() {}

    /**
     * A vector.
     *
     * @param id file and row
     * @param entries texts by the name of the item, such as {@code pain_1_right}
     * @param scale the scale it speaks of
     * @param hand the hand it speaks of
     * @param score the score it states
     */
    record Vector(
            String id,
            Map<String, String> entries,
            Optional<Side> side,
            String scale,
            Optional<Side> hand,
            OptionalDouble score) {}

    static List<Vector> of(Instrument instrument) {
        List<Vector> vectors = new ArrayList<>();
        Path folder = FOLDER.resolve(instrument.id().value());
        if (!Files.isDirectory(folder)) {
            return vectors;
        }
        try (Stream<Path> files = Files.list(folder)) {
            for (Path file : files.sorted().toList()) {
                String text = Files.readString(file);
                CSVFormat format = CSVFormat.RFC4180
                        .builder()
                        .setHeader()
                        .setSkipHeaderRecord(true)
                        .get();
                try (CSVParser parser = CSVParser.parse(text.substring(text.indexOf('\n') + 1), format)) {
                    for (CSVRecord row : parser) {
                        if (row.get("options").isEmpty()) {
                            vectors.add(vector(instrument, file, row));
                        }
                    }
                }
            }
        } catch (IOException e) {
            throw new UncheckedIOException(e);
        }
        return vectors;
    }

    private static Vector vector(Instrument instrument, Path file, CSVRecord row) {
        Map<String, String> entries = new TreeMap<>();
        Optional<Side> side = Optional.empty();
        for (String entry : row.get("responses").split("\\s+")) {
            if (entry.startsWith("side=")) {
                side = Side.parse(entry.substring(5));
            } else if (!entry.isEmpty()) {
                String[] ends = entry.substring(0, entry.indexOf('=')).split("\\.\\.", -1);
                int first = index(instrument, ends[0]);
                int last = ends.length == 1 ? first : index(instrument, ends[1]);
                for (int i = first; i <= last; i++) {
                    entries.put(instrument.columns().get(i).shortName(), entry.substring(entry.indexOf('=') + 1));
                }
            }
        }
        String score = row.get("score");
        return new Vector(
                instrument.id() + "/" + file.getFileName() + " " + row.get("id"),
                entries,
                side,
                row.get("scale"),
                Side.parse(row.get("hand")),
                score.isEmpty() ? OptionalDouble.empty() : OptionalDouble.of(Double.parseDouble(score)));
    }

    private static int index(Instrument instrument, String item) {
        return instrument.column(instrument.id() + "_" + item).orElseThrow().index();
    }

    /** A sitting that vectors share: the same entries and the same side. */
    record Sitting(Map<String, String> entries, Optional<Side> side) {}

    static List<Sitting> sittings(List<Vector> vectors) {
        return vectors.stream()
                .map(v -> new Sitting(v.entries(), v.side()))
                .distinct()
                .toList();
    }

    /** Types the sittings of the vectors into a form, one a row. */
    static void type(XSSFWorkbook form, Instrument instrument, List<Vector> vectors) {
        Sheet sheet = form.getSheet(EntryForm.RESPONSES);
        List<String> headings = new ArrayList<>();
        sheet.getRow(0).forEach(c -> headings.add(c.getStringCellValue()));
        List<Sitting> sittings = sittings(vectors);
        for (int i = 0; i < sittings.size(); i++) {
            Sitting sitting = sittings.get(i);
            Row row = sheet.getRow(i + 1);
            row.createCell(0).setCellValue("P" + i);
            sitting.side().ifPresent(s -> row.createCell(2).setCellValue(s.code()));
            sitting.entries().forEach((item, text) -> {
                Cell cell = row.createCell(headings.indexOf(instrument.id() + "_" + item));
                try {
                    cell.setCellValue(Double.parseDouble(text));
                } catch (NumberFormatException e) {
                    cell.setCellValue(text);
                }
            });
        }
    }

    /** What stands in a computed cell: a number, or a text. */
    interface Shown {
        Object at(int row, String heading);
    }

    /** What is stored in the computed cells of a form. */
    static Shown stored(XSSFWorkbook book) {
        Sheet sheet = book.getSheet(EntryForm.RESPONSES);
        List<String> headings = new ArrayList<>();
        sheet.getRow(0).forEach(c -> headings.add(c.getStringCellValue()));
        return (row, heading) -> {
            Cell cell = sheet.getRow(row).getCell(headings.indexOf(heading));
            return switch (cell.getCachedFormulaResultType()) {
                case NUMERIC -> (Object) cell.getNumericCellValue();
                case STRING -> cell.getStringCellValue();
                default -> "an error";
            };
        };
    }

    /** Where the form shows something else than the engine gives for a sitting, or than a vector states. */
    static List<String> differences(Instrument instrument, List<Vector> vectors, Shown shown) {
        List<String> wrong = new ArrayList<>();
        List<Sitting> sittings = sittings(vectors);
        for (int i = 0; i < sittings.size(); i++) {
            Sitting sitting = sittings.get(i);
            Map<String, Object> row = new HashMap<>();
            for (FormScoreColumn column : FormScoreColumn.of(instrument)) {
                row.put(column.heading(), shown.at(i + 1, column.heading()));
            }
            List<Vector> same = vectors.stream()
                    .filter(v -> sitting.equals(new Sitting(v.entries(), v.side())))
                    .toList();
            Responses.Builder responses = Responses.builder(instrument);
            for (Column column : instrument.columns()) {
                responses.put(column.index(), response(sitting.entries().getOrDefault(column.shortName(), "")));
            }
            againstEngine(responses.build(), sitting.side(), row)
                    .forEach(w -> wrong.add(same.get(0).id() + ": " + w));
            same.forEach(v -> againstVector(instrument, v, row).forEach(w -> wrong.add(v.id() + ": " + w)));
        }
        return wrong;
    }

    /**
     * Where a row of the form shows something else than the engine gives.
     *
     * @param row what the form shows, by heading
     */
    static List<String> againstEngine(Responses given, Optional<Side> side, Map<String, Object> row) {
        Instrument instrument = given.instrument();
        List<ScoreResult> results = ScoringPlan.of(instrument).score(given, side);
        List<String> wrong = new ArrayList<>();
        for (FormScoreColumn column : FormScoreColumn.of(instrument)) {
            Optional<ScoreResult> result = results.stream()
                    .filter(r ->
                            r.scale().equals(column.scale().id()) && r.hand().equals(column.hand()))
                    .findFirst();
            Object is = row.get(column.heading());
            expected(column, result, given)
                    .filter(expected -> !same(expected, is))
                    .ifPresent(expected -> wrong.add(column.heading() + " shows '" + is + "', not '" + expected + "'"));
        }
        return wrong;
    }

    private static List<String> againstVector(Instrument instrument, Vector vector, Map<String, Object> row) {
        return FormScoreColumn.of(instrument).stream()
                .filter(c -> c.shows() == FormScoreColumn.Shows.SCORE
                        && c.scale().id().value().equals(vector.scale())
                        && c.hand().equals(vector.hand()))
                .filter(c -> vector.score().isPresent() && !same(vector.score().getAsDouble(), row.get(c.heading())))
                .map(c -> c.heading() + " shows '" + row.get(c.heading()) + "', but the vector states "
                        + vector.score().getAsDouble())
                .toList();
    }

    private static Optional<Object> expected(
            FormScoreColumn column, Optional<ScoreResult> result, Responses responses) {
        return switch (column.shows()) {
            case SCORE ->
                Optional.of(result.flatMap(ScoreResult::scored)
                        .<Object>map(ScoreResult.Scored::value)
                        .orElse(""));
            case LOWEST ->
                Optional.of(result.flatMap(ScoreResult::bounds)
                        .<Object>map(Range::low)
                        .orElse(""));
            case HIGHEST ->
                Optional.of(result.flatMap(ScoreResult::bounds)
                        .<Object>map(Range::high)
                        .orElse(""));
            case WHY ->
                Optional.of(result.flatMap(ScoreResult::reason)
                        .<Object>map(r -> r.code())
                        .orElse(""));
            // Of a response that is not allowed the engine says only that it is no answer.
            case UNANSWERED ->
                result.filter(r -> !anyNotAllowed(column, responses)).map(r -> (double) (r.items() - r.answered()));
        };
    }

    private static boolean anyNotAllowed(FormScoreColumn column, Responses responses) {
        return responses.instrument().columns().stream()
                .filter(c -> responses.instrument().uses(column.scale(), c.item()))
                .anyMatch(c ->
                        responses.entered(c.index()) && responses.allowed(c).isEmpty());
    }

    private static boolean same(Object expected, Object is) {
        return expected instanceof Double a && is instanceof Double b
                ? Math.abs(a - b) <= TOLERANCE
                : expected.equals(is);
    }

    private static Response response(String text) {
        if (text.isEmpty()) {
            return Response.NOT_ANSWERED;
        }
        try {
            return Response.of(Double.parseDouble(text));
        } catch (NumberFormatException e) {
            return Response.NO_NUMBER;
        }
    }
}
