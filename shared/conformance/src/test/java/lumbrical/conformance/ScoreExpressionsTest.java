package lumbrical.conformance;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import ca.uhn.fhir.context.FhirContext;
import java.io.IOException;
import java.math.BigDecimal;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.HashMap;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.stream.Stream;
import lumbrical.catalogue.Catalogue;
import lumbrical.deidentify.DeidentifiedDataset;
import lumbrical.deidentify.Profile;
import lumbrical.deidentify.SendingLog;
import lumbrical.deidentify.SentRecords;
import lumbrical.fhir.ExternalCodes;
import lumbrical.fhir.FhirFiles;
import lumbrical.instrument.Column;
import lumbrical.instrument.Instrument;
import lumbrical.instrument.ResponseSet;
import org.apache.commons.csv.CSVFormat;
import org.apache.commons.csv.CSVParser;
import org.apache.commons.csv.CSVRecord;
import org.hl7.fhir.r4.fhirpath.FHIRPathEngine;
import org.hl7.fhir.r4.hapi.ctx.HapiWorkerContext;
import org.hl7.fhir.r4.model.Base;
import org.hl7.fhir.r4.model.CodeType;
import org.hl7.fhir.r4.model.Coding;
import org.hl7.fhir.r4.model.DecimalType;
import org.hl7.fhir.r4.model.Expression;
import org.hl7.fhir.r4.model.Extension;
import org.hl7.fhir.r4.model.Questionnaire;
import org.hl7.fhir.r4.model.QuestionnaireResponse;
import org.hl7.fhir.r4.model.StringType;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/**
 * The calculated expressions of the Questionnaires, computed by the FHIRPath engine of HAPI FHIR on every shipped vector that a response
 * can hold: all but those of a run's options, which a form does not know. Expected values are those of the vectors, whose sources stand
 * in their files.
 */
class ScoreExpressionsTest {
    private static final Path VECTORS = Path.of("..", "..", "test-vectors", "vectors");
    private static final String CALCULATED =
            "http://hl7.org/fhir/uv/sdc/StructureDefinition/sdc-questionnaire-calculatedExpression";
    private static final double TOLERANCE = 1e-6;

    @TempDir
    private static Path folder;

    /** The Questionnaires of an upload of every instrument, by id. */
    private static Map<String, Questionnaire> questionnaires() {
        GeneratedClinic clinic = GeneratedClinic.of(40);
        DeidentifiedDataset shipment =
                Clinics.shipment(clinic.responses(folder), clinic.episodes(folder), Profile.DEFAULT);
        Clinics.Files files = new Clinics.Files();
        FhirFiles.write(
                shipment,
                new FhirFiles.FhirSettings(false, ExternalCodes.NONE),
                new SendingLog(SentRecords.NONE),
                files);
        Map<String, Questionnaire> found = new HashMap<>();
        files.content().keySet().stream()
                .filter(name -> name.startsWith("data/bundle-"))
                .flatMap(name -> FhirValidation.bundle(files.text(name)).getEntry().stream())
                .forEach(entry -> {
                    if (entry.getResource() instanceof Questionnaire form) {
                        found.put(form.getUrl().substring(form.getUrl().lastIndexOf('/') + 1), form);
                    }
                });
        return found;
    }

    private static List<CSVRecord> rows(Instrument instrument) throws IOException {
        List<CSVRecord> rows = new ArrayList<>();
        Path vectors = VECTORS.resolve(instrument.id().value());
        if (!Files.isDirectory(vectors)) {
            return rows;
        }
        try (Stream<Path> files = Files.list(vectors)) {
            for (Path file : files.sorted().toList()) {
                String text = Files.readString(file);
                CSVFormat format = CSVFormat.RFC4180
                        .builder()
                        .setHeader()
                        .setSkipHeaderRecord(true)
                        .get();
                try (CSVParser parser = CSVParser.parse(text.substring(text.indexOf('\n') + 1), format)) {
                    parser.stream().filter(r -> r.get("options").isEmpty()).forEach(rows::add);
                }
            }
        }
        return rows;
    }

    /** The responses of a vector as a form holds them; one that the item does not allow as an upload says it. */
    private static QuestionnaireResponse response(Instrument instrument, String responses) {
        Map<Integer, String> entries = new LinkedHashMap<>();
        QuestionnaireResponse form = new QuestionnaireResponse();
        for (String entry : responses.split("\\s+")) {
            String value = entry.substring(entry.indexOf('=') + 1);
            if (entry.startsWith("side=")) {
                Extension side = form.addExtension();
                side.setUrl(Clinics.BASE + "/StructureDefinition/attribute");
                side.addExtension("name", new StringType("side"));
                side.addExtension("value", new StringType(value));
            } else if (!entry.isEmpty()) {
                String[] ends = entry.substring(0, entry.indexOf('=')).split("\\.\\.", -1);
                int first = index(instrument, ends[0]);
                int last = ends.length == 1 ? first : index(instrument, ends[1]);
                for (int i = first; i <= last; i++) {
                    entries.put(i, value);
                }
            }
        }
        entries.forEach((index, value) -> item(form, instrument.columns().get(index), value));
        return form;
    }

    private static int index(Instrument instrument, String item) {
        return instrument.column(instrument.id() + "_" + item).orElseThrow().index();
    }

    private static void item(QuestionnaireResponse form, Column column, String value) {
        if (value.isBlank()) {
            return;
        }
        var item = form.addItem().setLinkId(column.shortName());
        ResponseSet set = column.item().responses();
        Optional<BigDecimal> number = number(value).filter(n -> set.allows(n.doubleValue()));
        if (number.isEmpty()) {
            item.addExtension("http://hl7.org/fhir/StructureDefinition/data-absent-reason", new CodeType("error"));
        } else if (set instanceof ResponseSet.Codes) {
            item.addAnswer()
                    .setValue(new Coding()
                            .setCode(number.get().stripTrailingZeros().toPlainString()));
        } else {
            item.addAnswer().setValue(new DecimalType(number.get()));
        }
    }

    private static Optional<BigDecimal> number(String value) {
        try {
            return Optional.of(new BigDecimal(value));
        } catch (NumberFormatException e) {
            return Optional.empty();
        }
    }

    @Test
    void theEngineGivesTheScoreOfEveryVector() throws IOException {
        FhirContext context = FhirContext.forR4Cached();
        FHIRPathEngine engine = new FHIRPathEngine(new HapiWorkerContext(context, context.getValidationSupport()));
        Map<String, Questionnaire> questionnaires = questionnaires();
        Map<String, org.hl7.fhir.r4.fhirpath.ExpressionNode> parsed = new HashMap<>();
        List<String> wrong = new ArrayList<>();
        int seen = 0;
        int empty = 0;
        for (Instrument instrument : Catalogue.builtIn().all()) {
            Questionnaire form = questionnaires.get(instrument.id().value());
            for (CSVRecord row : rows(instrument)) {
                String linkId = "score_" + row.get("scale") + (row.get("hand").isEmpty() ? "" : "_" + row.get("hand"));
                Optional<String> expression = form.getItem().stream()
                        .filter(i -> i.getLinkId().equals(linkId))
                        .map(i -> ((Expression) i.getExtensionByUrl(CALCULATED).getValue()).getExpression())
                        .findFirst();
                OptionalDouble expected = row.get("score").isEmpty()
                        ? OptionalDouble.empty()
                        : OptionalDouble.of(Double.parseDouble(row.get("score")));
                String where = instrument.id() + " " + row.get("id") + " " + linkId;
                if (expression.isEmpty()) {
                    if (expected.isPresent()) {
                        wrong.add(where + ": no expression");
                    }
                    continue;
                }
                QuestionnaireResponse response = response(instrument, row.get("responses"));
                List<Base> found = engine.evaluate(
                        null, response, response, response, parsed.computeIfAbsent(expression.get(), engine::parse));
                seen++;
                empty += expected.isEmpty() ? 1 : 0;
                boolean right = expected.isEmpty()
                        ? found.isEmpty()
                        : found.size() == 1
                                && Math.abs(new BigDecimal(found.get(0).primitiveValue()).doubleValue()
                                                - expected.getAsDouble())
                                        <= TOLERANCE;
                if (!right) {
                    wrong.add(where + ": expected " + expected + ", found "
                            + found.stream().map(Base::primitiveValue).toList());
                }
            }
        }
        assertEquals(List.of(), wrong.stream().limit(20).toList(), wrong.size() + " of " + seen);
        assertTrue(seen > 1_000, "only " + seen + " vectors were seen");
        assertTrue(empty > 100, "only " + empty + " vectors without a score were seen");
    }
}
