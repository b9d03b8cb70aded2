package lumbrical.document;

import com.fasterxml.jackson.core.JsonParser;
import com.fasterxml.jackson.core.JsonToken;
import java.io.IOException;
import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;

/** A JSON value, read by streaming: no binding, so nothing is reflected upon. */
public sealed interface Json {
    /** Longest text of a document, in characters. */
    int MAX_TEXT = 4_000;
    /** Deepest nesting of a document. */
    int MAX_DEPTH = 12;

    /** An object, members in their order. */
    record Obj(Map<String, Json> members) implements Json {}

    /** An array. */
    record Arr(List<Json> elements) implements Json {}

    /** A text. */
    record Text(String value) implements Json {}

    /** A number. */
    record Num(double value) implements Json {}

    /** True or false. */
    record Bool(boolean value) implements Json {}

    /** The null of JSON. */
    record Null() implements Json {}

    /** What kind of value this is, in words. */
    default String kind() {
        if (this instanceof Obj) {
            return "an object";
        } else if (this instanceof Arr) {
            return "an array";
        } else if (this instanceof Text) {
            return "a text";
        } else if (this instanceof Num) {
            return "a number";
        }
        return this instanceof Bool ? "true or false" : "null";
    }

    /**
     * The value in {@code bytes}.
     *
     * @throws IOException if the bytes are no JSON, hold a key twice or exceed a limit
     */
    static Json parse(byte[] bytes) throws IOException {
        try (JsonParser parser = JsonStreams.FACTORY.createParser(bytes)) {
            if (parser.nextToken() == null) {
                throw new IOException("the file is empty");
            }
            Json value = read(parser);
            if (parser.nextToken() != null) {
                throw new IOException("more follows after the end of the document");
            }
            return value;
        }
    }

    private static Json read(JsonParser parser) throws IOException {
        return switch (parser.currentToken()) {
            case START_OBJECT -> object(parser);
            case START_ARRAY -> array(parser);
            case VALUE_STRING -> new Text(parser.getText());
            case VALUE_NUMBER_INT, VALUE_NUMBER_FLOAT -> new Num(parser.getDoubleValue());
            case VALUE_TRUE, VALUE_FALSE -> new Bool(parser.getBooleanValue());
            default -> new Null();
        };
    }

    private static Json object(JsonParser parser) throws IOException {
        Map<String, Json> members = new LinkedHashMap<>();
        while (parser.nextToken() != JsonToken.END_OBJECT) {
            String key = parser.currentName();
            parser.nextToken();
            members.put(key, read(parser));
        }
        return new Obj(members);
    }

    private static Json array(JsonParser parser) throws IOException {
        List<Json> elements = new ArrayList<>();
        while (parser.nextToken() != JsonToken.END_ARRAY) {
            elements.add(read(parser));
        }
        return new Arr(elements);
    }
}
