package lumbrical.fhir;

import com.fasterxml.jackson.core.JsonFactory;
import com.fasterxml.jackson.core.JsonGenerator;
import java.io.ByteArrayOutputStream;
import java.io.IOException;
import java.io.UncheckedIOException;
import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import lumbrical.number.Numbers;

/** A JSON object under construction, members in the order they were put. */
final class JsonObject {
    private static final JsonFactory FACTORY = new JsonFactory();

    private final Map<String, Object> members = new LinkedHashMap<>();
    private Optional<JsonObject> same = Optional.empty();

    static JsonObject resource(String type) {
        return new JsonObject().put("resourceType", type);
    }

    /** Puts a member before all others, after the type of a resource. */
    JsonObject first(String name, Object value) {
        Map<String, Object> others = new LinkedHashMap<>(members);
        members.clear();
        Optional.ofNullable(others.remove("resourceType")).ifPresent(type -> members.put("resourceType", type));
        members.put(name, value);
        members.putAll(others);
        return this;
    }

    JsonObject put(String name, String text) {
        members.put(name, text);
        return this;
    }

    JsonObject put(String name, Optional<String> text) {
        text.ifPresent(t -> members.put(name, t));
        return this;
    }

    JsonObject put(String name, boolean value) {
        members.put(name, value);
        return this;
    }

    /** A number with at most six decimals. */
    JsonObject put(String name, double value) {
        members.put(name, value);
        return this;
    }

    JsonObject put(String name, JsonObject child) {
        members.put(name, child);
        return this;
    }

    /** An array; left out if it is empty, as FHIR has it. */
    JsonObject put(String name, List<JsonObject> children) {
        if (!children.isEmpty()) {
            members.put(name, List.copyOf(children));
        }
        return this;
    }

    JsonObject texts(String name, List<String> texts) {
        members.put(name, List.copyOf(texts));
        return this;
    }

    /** Adds to an array. */
    JsonObject add(String name, JsonObject child) {
        List<Object> grown = new ArrayList<>();
        if (members.get(name) instanceof List<?> list) {
            grown.addAll(list);
        }
        grown.add(child);
        members.put(name, grown);
        return this;
    }

    /** Says that this element means what {@code other} means: for {@link #meaning} that one is taken. */
    JsonObject means(JsonObject other) {
        same = Optional.of(other);
        return this;
    }

    /** The type of a resource, or empty. */
    String type() {
        return members.get("resourceType") instanceof String type ? type : "";
    }

    /** Names of its elements; an extension by the last part of its address, such as {@code extension(episode)}. */
    Set<String> elements() {
        Set<String> names = new LinkedHashSet<>(members.keySet());
        names.remove("resourceType");
        if (names.remove("extension") && members.get("extension") instanceof List<?> list) {
            for (Object each : list) {
                if (each instanceof JsonObject extension && extension.members.get("url") instanceof String url) {
                    names.add("extension(" + url.substring(url.lastIndexOf('/') + 1) + ")");
                }
            }
        }
        return names;
    }

    void write(JsonGenerator json) throws IOException {
        write(json, false);
    }

    private void write(JsonGenerator json, boolean meaning) throws IOException {
        if (meaning && same.isPresent()) {
            same.get().write(json, true);
            return;
        }
        json.writeStartObject();
        for (Map.Entry<String, Object> member : members.entrySet()) {
            json.writeFieldName(member.getKey());
            write(member.getValue(), json, meaning);
        }
        json.writeEndObject();
    }

    private static void write(Object value, JsonGenerator json, boolean meaning) throws IOException {
        if (value instanceof JsonObject element) {
            element.write(json, meaning);
        } else if (value instanceof List<?> list) {
            json.writeStartArray();
            for (Object each : list) {
                write(each, json, meaning);
            }
            json.writeEndArray();
        } else if (value instanceof Boolean flag) {
            json.writeBoolean(flag);
        } else if (value instanceof Double number) {
            json.writeNumber(Numbers.format(number));
        } else {
            json.writeString((String) value);
        }
    }

    /** The element as JSON, each reference by identifier, so that the same content gives the same bytes in every kind of file. */
    byte[] meaning() {
        ByteArrayOutputStream bytes = new ByteArrayOutputStream(1024);
        try (JsonGenerator json = FACTORY.createGenerator(bytes)) {
            write(json, true);
        } catch (IOException e) {
            throw new UncheckedIOException(e);
        }
        return bytes.toByteArray();
    }
}
