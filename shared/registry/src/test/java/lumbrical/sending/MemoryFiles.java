package lumbrical.sending;

import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.ObjectMapper;
import java.io.ByteArrayOutputStream;
import java.io.IOException;
import java.io.UncheckedIOException;
import java.nio.charset.StandardCharsets;
import java.util.ArrayList;
import java.util.HashMap;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.stream.Collectors;
import java.util.stream.Stream;
import lumbrical.output.DataFiles;

/** Files in memory, by name, in the order written. */
public final class MemoryFiles implements DataFiles {
    private static final ObjectMapper JSON = new ObjectMapper();

    private final Map<String, byte[]> content = new LinkedHashMap<>();
    private final Map<String, Long> counts = new HashMap<>();

    @Override
    public void file(String name, Counted counted) {
        ByteArrayOutputStream out = new ByteArrayOutputStream();
        try {
            counts.put(name, counted.writeTo(out));
        } catch (IOException e) {
            throw new UncheckedIOException(e);
        }
        content.put(name, out.toByteArray());
    }

    /** Their names, in the order written. */
    public List<String> names() {
        return List.copyOf(content.keySet());
    }

    /** How many records the writer of the file counted. */
    public long count(String name) {
        return Optional.ofNullable(counts.get(name)).orElseThrow(() -> new AssertionError("no file " + name));
    }

    /** The text of a file. */
    public String text(String name) {
        byte[] bytes = Optional.ofNullable(content.get(name))
                .orElseThrow(() -> new AssertionError("no file " + name + " among " + names()));
        return new String(bytes, StandardCharsets.UTF_8);
    }

    /** A file of JSON. */
    public JsonNode json(String name) {
        return parse(text(name));
    }

    /** JSON. */
    public static JsonNode parse(String text) {
        try {
            return JSON.readTree(text);
        } catch (IOException e) {
            throw new UncheckedIOException(e);
        }
    }

    /** The records of a Dataset-JSON file by variable; missing values are left out. */
    public List<Map<String, JsonNode>> records(String dataset) {
        JsonNode whole = json("data/" + dataset + ".json");
        List<Map<String, JsonNode>> records = new ArrayList<>();
        for (JsonNode row : whole.get("rows")) {
            Map<String, JsonNode> record = new HashMap<>();
            for (int i = 0; i < row.size(); i++) {
                if (!row.get(i).isNull()) {
                    record.put(whole.get("columns").get(i).get("name").asText(), row.get(i));
                }
            }
            records.add(record);
        }
        return records;
    }

    /** The values of some variables, a dash where missing, of the records that hold {@code value} in {@code variable}; sorted. */
    public List<String> of(String dataset, String variable, String value, String... shown) {
        List<String> lines = new ArrayList<>();
        for (Map<String, JsonNode> record : records(dataset)) {
            if (record.containsKey(variable) && record.get(variable).asText().equals(value)) {
                lines.add(Stream.of(shown)
                        .map(s -> record.containsKey(s) ? record.get(s).asText() : "-")
                        .collect(Collectors.joining(" | ")));
            }
        }
        return lines.stream().sorted().toList();
    }
}
