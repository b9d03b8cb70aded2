package lumbrical.fhir;

import com.fasterxml.jackson.core.JsonFactory;
import com.fasterxml.jackson.core.JsonGenerator;
import java.io.IOException;
import java.io.StringWriter;
import java.io.UncheckedIOException;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.function.Consumer;
import lumbrical.number.Numbers;

/** A JSON object under construction, members in the order they were put. */
final class JsonObject {
    private static final JsonFactory FACTORY = new JsonFactory();

    private final List<String> names = new ArrayList<>(8);
    private final List<Object> values = new ArrayList<>(8);

    static JsonObject resource(String type) {
        return new JsonObject().put("resourceType", type);
    }

    /** Puts a member before all others, after the type of a resource. */
    JsonObject first(String name, Object value) {
        int at = type().isEmpty() ? 0 : 1;
        names.add(at, name);
        values.add(at, value);
        return this;
    }

    /** Objects have few members: to look through them is faster than to hash their names. */
    private JsonObject member(String name, Object value) {
        int at = names.indexOf(name);
        if (at < 0) {
            names.add(name);
            values.add(value);
        } else {
            values.set(at, value);
        }
        return this;
    }

    private Optional<Object> value(String name) {
        int at = names.indexOf(name);
        return at < 0 ? Optional.empty() : Optional.of(values.get(at));
    }

    JsonObject put(String name, String text) {
        return member(name, text);
    }

    JsonObject put(String name, Optional<String> text) {
        text.ifPresent(t -> member(name, t));
        return this;
    }

    JsonObject put(String name, boolean value) {
        return member(name, value);
    }

    /** A number with at most six decimals. */
    JsonObject put(String name, double value) {
        return member(name, value);
    }

    JsonObject put(String name, JsonObject child) {
        return member(name, child);
    }

    /** An array; left out if it is empty, as FHIR has it. */
    JsonObject put(String name, List<JsonObject> children) {
        return children.isEmpty() ? this : member(name, List.copyOf(children));
    }

    JsonObject texts(String name, List<String> texts) {
        return member(name, List.copyOf(texts));
    }

    /** Adds to an array. */
    JsonObject add(String name, JsonObject child) {
        List<Object> grown = new ArrayList<>();
        value(name).filter(List.class::isInstance).ifPresent(list -> grown.addAll((List<?>) list));
        grown.add(child);
        return member(name, grown);
    }

    /** The type of a resource, or empty. */
    String type() {
        return value("resourceType")
                .filter(String.class::isInstance)
                .map(String.class::cast)
                .orElse("");
    }

    /** Hands on the names of its elements; an extension by the last part of its address, such as {@code extension(episode)}. */
    void elements(Consumer<String> taker) {
        for (int i = 0; i < names.size(); i++) {
            String name = names.get(i);
            if (name.equals("extension") && values.get(i) instanceof List<?> list) {
                for (Object each : list) {
                    if (each instanceof JsonObject extension
                            && extension.value("url").orElse("") instanceof String url) {
                        taker.accept("extension(" + url.substring(url.lastIndexOf('/') + 1) + ")");
                    }
                }
            } else if (!name.equals("resourceType")) {
                taker.accept(name);
            }
        }
    }

    private void write(JsonGenerator json) throws IOException {
        json.writeStartObject();
        for (int i = 0; i < names.size(); i++) {
            json.writeFieldName(names.get(i));
            write(values.get(i), json);
        }
        json.writeEndObject();
    }

    private static void write(Object value, JsonGenerator json) throws IOException {
        if (value instanceof JsonObject element) {
            element.write(json);
        } else if (value instanceof List<?> list) {
            json.writeStartArray();
            for (Object each : list) {
                write(each, json);
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

    /** The element as JSON. */
    String text() {
        StringWriter text = new StringWriter(1024);
        try (JsonGenerator json = FACTORY.createGenerator(text)) {
            write(json);
        } catch (IOException e) {
            throw new UncheckedIOException(e);
        }
        return text.toString();
    }
}
