package org.handoutcomes.catalogue;

import com.fasterxml.jackson.core.JsonFactory;
import com.fasterxml.jackson.core.JsonFactoryBuilder;
import com.fasterxml.jackson.core.JsonParser;
import com.fasterxml.jackson.core.JsonToken;
import com.fasterxml.jackson.core.StreamReadConstraints;
import com.fasterxml.jackson.core.StreamReadFeature;
import java.io.IOException;
import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;

/** A JSON value, read by streaming: no binding, so nothing is reflected upon. */
sealed interface Json {
    /** Longest text of a definition, in characters. */
    int MAX_TEXT = 4_000;
    /** Deepest nesting of a definition. */
    int MAX_DEPTH = 12;

    JsonFactory FACTORY = new JsonFactoryBuilder()
            .enable(StreamReadFeature.STRICT_DUPLICATE_DETECTION)
            .streamReadConstraints(StreamReadConstraints.builder()
                    .maxNestingDepth(MAX_DEPTH)
                    .maxStringLength(MAX_TEXT)
                    .maxNumberLength(30)
                    .build())
            .build();

    record Obj(Map<String, Json> members) implements Json {}

    record Arr(List<Json> elements) implements Json {}

    record Text(String value) implements Json {}

    record Num(double value) implements Json {}

    record Bool(boolean value) implements Json {}

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

    /** @throws IOException if the bytes are no JSON, hold a key twice or exceed a limit */
    static Json parse(byte[] bytes) throws IOException {
        try (JsonParser parser = FACTORY.createParser(bytes)) {
            if (parser.nextToken() == null) {
                throw new IOException("the file is empty");
            }
            Json value = read(parser);
            if (parser.nextToken() != null) {
                throw new IOException("more follows after the end of the definition");
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
