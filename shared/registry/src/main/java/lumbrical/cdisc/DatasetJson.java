package lumbrical.cdisc;

import com.fasterxml.jackson.core.JsonFactory;
import com.fasterxml.jackson.core.JsonGenerator;
import com.fasterxml.jackson.core.util.MinimalPrettyPrinter;
import java.io.IOException;
import java.io.OutputStream;
import java.io.StringWriter;
import java.io.UncheckedIOException;
import java.time.LocalDate;
import lumbrical.number.Numbers;

/** Writes a dataset as Dataset-JSON 1.1, whole or as NDJSON (the metadata on the first line, a record on each other). */
final class DatasetJson {
    private static final String VERSION = "1.1.0";
    private static final JsonFactory FACTORY = new JsonFactory();

    private final String study;
    private final LocalDate asOf;
    private final String program;

    DatasetJson(String study, LocalDate asOf, String program) {
        this.study = study;
        this.asOf = asOf;
        this.program = program;
    }

    /**
     * Begins both forms of a dataset.
     *
     * @param records how many records there are; the number stands before them
     */
    Records begin(Dataset dataset, long records, OutputStream whole, OutputStream lines) throws IOException {
        JsonGenerator ofWhole = FACTORY.createGenerator(whole);
        ofWhole.writeStartObject();
        metadata(dataset, records, ofWhole);
        ofWhole.writeArrayFieldStart("rows");
        JsonGenerator ofLines = FACTORY.createGenerator(lines);
        ofLines.writeStartObject();
        metadata(dataset, records, ofLines);
        ofLines.writeEndObject();
        return new Records(ofWhole, ofLines);
    }

    /** The records of a dataset on their way into both forms; in both a record is the same text. */
    static final class Records {
        private final JsonGenerator whole;
        private final JsonGenerator lines;
        private final StringWriter text = new StringWriter();
        private final JsonGenerator record;
        private boolean any;

        private Records(JsonGenerator whole, JsonGenerator lines) throws IOException {
            this.whole = whole;
            this.lines = lines;
            this.record = FACTORY.createGenerator(text);
            this.record.setPrettyPrinter(new MinimalPrettyPrinter(""));
        }

        void add(Dataset.Row row) {
            try {
                text.getBuffer().setLength(0);
                write(row, record);
                record.flush();
                whole.writeRaw(any ? "\n," : "\n");
                whole.writeRaw(text.toString());
                lines.writeRaw('\n');
                lines.writeRaw(text.toString());
                any = true;
            } catch (IOException e) {
                throw new UncheckedIOException(e);
            }
        }

        void end() throws IOException {
            whole.writeEndArray();
            whole.writeEndObject();
            whole.writeRaw('\n');
            whole.close();
            lines.writeRaw('\n');
            lines.close();
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

    private static void write(Dataset.Row row, JsonGenerator json) throws IOException {
        json.writeStartArray();
        for (Dataset.Cell cell : row.cells()) {
            if (cell instanceof Dataset.Cell.Text text) {
                json.writeString(text.text());
            } else if (cell instanceof Dataset.Cell.Number number) {
                json.writeNumber(Numbers.format(number.value()));
            } else {
                json.writeNull();
            }
        }
        json.writeEndArray();
    }
}
