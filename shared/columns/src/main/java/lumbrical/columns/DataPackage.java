package lumbrical.columns;

import com.fasterxml.jackson.core.JsonFactory;
import com.fasterxml.jackson.core.JsonGenerator;
import java.io.IOException;
import java.io.UncheckedIOException;
import java.io.Writer;
import java.util.ArrayList;
import java.util.List;
import lumbrical.output.OutputColumn;
import lumbrical.output.OutputTable;

/**
 * Describes the tables of a folder for analysis programs: a Frictionless Data Package (datapackage.org, 1.0), with the type and the
 * meaning of each column.
 */
public final class DataPackage {
    /** Name of the file. */
    public static final String FILE = "datapackage.json";

    private final String program;
    private final List<Resource> resources = new ArrayList<>();

    private record Resource(String file, OutputTable<?> table) {}

    /**
     * A package without a table yet.
     *
     * @param program name and version of the program
     */
    public DataPackage(String program) {
        this.program = program;
    }

    /** Adds a table that stands in {@code file} of the same folder. */
    public DataPackage with(String file, OutputTable<?> table) {
        resources.add(new Resource(file, table));
        return this;
    }

    /**
     * Writes it.
     *
     * @throws UncheckedIOException if it cannot be written
     */
    public void write(Writer out) {
        try (JsonGenerator json = new JsonFactory().createGenerator(out)) {
            json.disable(JsonGenerator.Feature.AUTO_CLOSE_TARGET);
            json.useDefaultPrettyPrinter();
            json.writeStartObject();
            json.writeStringField("profile", "tabular-data-package");
            json.writeStringField("name", "lumbrical-tables");
            json.writeStringField(
                    "description",
                    "Tables written by " + program
                            + ". Scores support and never replace clinical judgement; a threshold holds for the population it came from.");
            json.writeArrayFieldStart("resources");
            for (Resource resource : resources) {
                write(resource, json);
            }
            json.writeEndArray();
            json.writeEndObject();
        } catch (IOException e) {
            throw new UncheckedIOException(e);
        }
    }

    private static void write(Resource resource, JsonGenerator json) throws IOException {
        json.writeStartObject();
        json.writeStringField("profile", "tabular-data-resource");
        json.writeStringField(
                "name", resource.file().substring(0, resource.file().lastIndexOf('.')));
        json.writeStringField("title", resource.table().name());
        json.writeStringField("path", resource.file());
        json.writeStringField("format", "csv");
        json.writeStringField("mediatype", "text/csv");
        json.writeStringField("encoding", "utf-8");
        json.writeObjectFieldStart("schema");
        json.writeArrayFieldStart("fields");
        for (OutputColumn<?> column : resource.table().columns()) {
            json.writeStartObject();
            json.writeStringField("name", column.name());
            json.writeStringField("type", column.kind().schemaType());
            json.writeStringField("description", column.meaning());
            json.writeEndObject();
        }
        json.writeEndArray();
        json.writeArrayFieldStart("missingValues");
        json.writeString("");
        json.writeEndArray();
        json.writeEndObject();
        json.writeEndObject();
    }
}
