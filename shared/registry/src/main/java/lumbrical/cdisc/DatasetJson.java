package lumbrical.cdisc;

import com.fasterxml.jackson.core.JsonFactory;
import com.fasterxml.jackson.core.JsonGenerator;
import com.fasterxml.jackson.core.util.MinimalPrettyPrinter;
import java.io.IOException;
import java.io.OutputStream;
import java.io.UncheckedIOException;
import java.time.LocalDate;
import lumbrical.number.Numbers;

/** Writes a dataset as Dataset-JSON 1.1, whole or as NDJSON (the metadata on the first line, a record on each other). */
final class DatasetJson {
    private static final String VERSION = "1.1.0";

    private final String study;
    private final LocalDate asOf;
    private final String program;

    DatasetJson(String study, LocalDate asOf, String program) {
        this.study = study;
        this.asOf = asOf;
        this.program = program;
    }

    /** @param records how many records there are; the number stands before them */
    long write(Dataset dataset, long records, OutputStream out) throws IOException {
        try (JsonGenerator json = new JsonFactory().createGenerator(out)) {
            json.writeStartObject();
            metadata(dataset, records, json);
            json.writeArrayFieldStart("rows");
            dataset.records().forEach(record -> {
                raw(json, "\n");
                row(record, json);
            });
            json.writeEndArray();
            json.writeEndObject();
            json.writeRaw('\n');
        }
        return records;
    }

    /** @param records how many records there are; the number stands before them */
    long writeLines(Dataset dataset, long records, OutputStream out) throws IOException {
        try (JsonGenerator json = new JsonFactory().createGenerator(out)) {
            json.setPrettyPrinter(new MinimalPrettyPrinter("\n"));
            json.writeStartObject();
            metadata(dataset, records, json);
            json.writeEndObject();
            dataset.records().forEach(record -> row(record, json));
            json.writeRaw('\n');
        }
        return records;
    }

    private static void raw(JsonGenerator json, String text) {
        try {
            json.writeRaw(text);
        } catch (IOException e) {
            throw new UncheckedIOException(e);
        }
    }

    private void metadata(Dataset dataset, long records, JsonGenerator json) throws IOException {
        json.writeStringField("datasetJSONCreationDateTime", asOf + "T00:00:00");
        json.writeStringField("datasetJSONVersion", VERSION);
        json.writeStringField("fileOID", "lumbrical." + study + "." + dataset.name());
        json.writeObjectFieldStart("sourceSystem");
        int space = program.lastIndexOf(' ');
        json.writeStringField("name", program.substring(0, space));
        json.writeStringField("version", program.substring(space + 1));
        json.writeEndObject();
        json.writeStringField("studyOID", study);
        json.writeStringField("itemGroupOID", "IG." + dataset.name());
        json.writeNumberField("records", records);
        json.writeStringField("name", dataset.name());
        json.writeStringField("label", dataset.label());
        json.writeArrayFieldStart("columns");
        for (Variable variable : dataset.variables()) {
            json.writeStartObject();
            json.writeStringField("itemOID", "IT." + dataset.name() + "." + variable.name());
            json.writeStringField("name", variable.name());
            json.writeStringField("label", variable.label());
            json.writeStringField("dataType", variable.type().dataType());
            if (variable.type().targetDataType().isPresent()) {
                json.writeStringField(
                        "targetDataType", variable.type().targetDataType().get());
            }
            if (variable.type().displayFormat().isPresent()) {
                json.writeStringField(
                        "displayFormat", variable.type().displayFormat().get());
            }
            if (variable.key() > 0) {
                json.writeNumberField("keySequence", variable.key());
            }
            json.writeEndObject();
        }
        json.writeEndArray();
    }

    private static void row(Dataset.Row record, JsonGenerator json) {
        try {
            json.writeStartArray();
            for (Dataset.Cell cell : record.cells()) {
                if (cell instanceof Dataset.Cell.Text text) {
                    json.writeString(text.text());
                } else if (cell instanceof Dataset.Cell.Number number) {
                    json.writeNumber(Numbers.format(number.value()));
                } else {
                    json.writeNull();
                }
            }
            json.writeEndArray();
        } catch (IOException e) {
            throw new UncheckedIOException(e);
        }
    }
}
