package lumbrical.questionnaire;

import com.fasterxml.jackson.core.JsonParser;
import com.fasterxml.jackson.core.JsonToken;
import java.io.IOException;
import lumbrical.tabular.CountedInput;

/** Walks through resources and hands on the QuestionnaireResponses. Members may stand in any order. */
final class ResourceReader {
    private static final int BETWEEN = 256;
    private static final String FORM = "QuestionnaireResponse";

    private final JsonParser json;
    private final CountedInput bytes;
    private final FhirFormSink sink;
    private int entries;
    /** 0 = the file is not one of lines. */
    private int line;

    private long seen;
    private boolean sawResource;
    private boolean sawEntries;

    ResourceReader(JsonParser json, CountedInput bytes, FhirFormSink sink) {
        this.json = json;
        this.bytes = bytes;
        this.sink = sink;
    }

    /** Whether anything had a type of resource. */
    boolean sawResource() {
        return sawResource;
    }

    /** Whether it is a Bundle whose entries have been handed on. */
    boolean sawEntries() {
        return sawEntries;
    }

    /** The object that begins here and is a line of its own; entries of a Bundle have the number of their line. */
    void atLine(int number) throws IOException {
        line = number;
        resource(number);
    }

    /** The object that begins here, which stands for itself in the file. */
    void atTop() throws IOException {
        resource(json.currentTokenLocation().getLineNr());
    }

    /** Whether the object that begins here is a resource, which has a type. */
    private boolean resource(int number) throws IOException {
        if (++seen % BETWEEN == 0) {
            sink.at(bytes.share());
        }
        String type = "";
        FormBuilder form = new FormBuilder(json, number);
        boolean entriesSeen = false;
        while (json.nextToken() != JsonToken.END_OBJECT) {
            String name = json.currentName();
            JsonToken value = json.nextToken();
            if (name.equals("resourceType") && value == JsonToken.VALUE_STRING) {
                type = json.getText();
                sawResource = true;
            } else if (name.equals("entry") && value == JsonToken.START_ARRAY && isBundle(type)) {
                entriesSeen = true;
                entries();
            } else if (name.equals("link") && value == JsonToken.START_ARRAY && isBundle(type)) {
                links(type.equals("Bundle") || entriesSeen);
            } else if (type.isEmpty() || type.equals(FORM)) {
                form.member(name, value);
            } else {
                json.skipChildren();
            }
        }
        if (type.equals(FORM)) {
            sink.form(form.build());
        }
        return !type.isEmpty();
    }

    private static boolean isBundle(String type) {
        return type.isEmpty() || type.equals("Bundle");
    }

    private void entries() throws IOException {
        sawEntries = true;
        for (JsonToken entry = json.nextToken(); entry != JsonToken.END_ARRAY; entry = json.nextToken()) {
            entries++;
            int number = line > 0 ? line : entries;
            if (entry == JsonToken.START_OBJECT) {
                entry(number);
            } else {
                json.skipChildren();
                sink.entryNotReadable(number, "it is not an object");
            }
        }
    }

    /** Of an entry that is a request, such as to delete, or a response no resource is asked. Source: FHIR R4 (4.0.1), Bundle, bdl-5. */
    private void entry(int number) throws IOException {
        boolean resource = false;
        boolean exchange = false;
        while (json.nextToken() != JsonToken.END_OBJECT) {
            String name = json.currentName();
            JsonToken value = json.nextToken();
            if (name.equals("resource") && value == JsonToken.START_OBJECT) {
                resource |= resource(number);
            } else {
                exchange |= value == JsonToken.START_OBJECT && (name.equals("request") || name.equals("response"));
                json.skipChildren();
            }
        }
        if (!resource && !exchange) {
            sink.entryNotReadable(number, "it holds no resource");
        }
    }

    private void links(boolean ofBundle) throws IOException {
        for (JsonToken link = json.nextToken(); link != JsonToken.END_ARRAY; link = json.nextToken()) {
            if (link != JsonToken.START_OBJECT) {
                json.skipChildren();
                continue;
            }
            while (json.nextToken() != JsonToken.END_OBJECT) {
                String name = json.currentName();
                JsonToken value = json.nextToken();
                if (ofBundle
                        && name.equals("relation")
                        && value == JsonToken.VALUE_STRING
                        && json.getText().equals("next")) {
                    sink.morePages();
                }
                json.skipChildren();
            }
        }
    }
}
