package lumbrical.registry;

import com.fasterxml.jackson.core.JsonFactory;
import com.fasterxml.jackson.core.JsonGenerator;
import java.io.IOException;
import java.io.OutputStream;
import java.util.List;
import java.util.Map;
import lumbrical.output.OutputColumn;

/**
 * Writes a Frictionless Table Schema (specs.frictionlessdata.io/table-schema): fields, labelled missing values, primary key.
 */
final class TableSchema {
    private final List<String> primaryKey;
    private final Map<String, List<String>> allowed;
    private final String missing;

    /**
     * @param primaryKey fields that make a row unique
     * @param allowed by field, the values there can be
     * @param missing what a blank means
     */
    TableSchema(List<String> primaryKey, Map<String, List<String>> allowed, String missing) {
        this.primaryKey = List.copyOf(primaryKey);
        this.allowed = Map.copyOf(allowed);
        this.missing = missing;
    }

    List<String> values(String field) {
        return allowed.getOrDefault(field, List.of());
    }

    <R> long write(List<OutputColumn<R>> columns, OutputStream out) throws IOException {
        try (JsonGenerator json = new JsonFactory().createGenerator(out)) {
            json.useDefaultPrettyPrinter();
            json.writeStartObject();
            json.writeArrayFieldStart("fields");
            for (OutputColumn<R> column : columns) {
                field(column, json);
            }
            json.writeEndArray();
            json.writeArrayFieldStart("missingValues");
            json.writeStartObject();
            json.writeStringField("value", "");
            json.writeStringField("label", missing);
            json.writeEndObject();
            json.writeEndArray();
            json.writeArrayFieldStart("primaryKey");
            for (String key : primaryKey) {
                json.writeString(key);
            }
            json.writeEndArray();
            json.writeEndObject();
        }
        return columns.size();
    }

    private <R> void field(OutputColumn<R> column, JsonGenerator json) throws IOException {
        json.writeStartObject();
        json.writeStringField("name", column.name());
        json.writeStringField("type", column.kind().schemaType());
        json.writeStringField("description", column.meaning());
        boolean key = primaryKey.contains(column.name());
        List<String> values = values(column.name());
        if (key || !values.isEmpty()) {
            json.writeObjectFieldStart("constraints");
            if (key) {
                json.writeBooleanField("required", true);
            }
            if (!values.isEmpty()) {
                json.writeArrayFieldStart("enum");
                for (String value : values) {
                    json.writeString(value);
                }
                json.writeEndArray();
            }
            json.writeEndObject();
        }
        json.writeEndObject();
    }
}
