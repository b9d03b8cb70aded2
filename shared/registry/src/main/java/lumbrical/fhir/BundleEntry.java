package lumbrical.fhir;

import com.fasterxml.jackson.core.JsonGenerator;
import java.io.IOException;
import java.util.Optional;

/**
 * An entry of a transaction.
 *
 * @param put what is put; empty: it is deleted
 * @param url what the server is asked with
 */
record BundleEntry(Optional<Put> put, String url) {
    /**
     * A resource to put.
     *
     * @param fullUrl its identity in the Bundle
     * @param resource its JSON
     */
    record Put(String fullUrl, String resource) {}

    static BundleEntry put(String type, String id, String url, String resource) {
        return new BundleEntry(Optional.of(new Put(FhirCodes.fullUrl(type, id), resource)), url);
    }

    static BundleEntry delete(String url) {
        return new BundleEntry(Optional.empty(), url);
    }

    void write(JsonGenerator json) throws IOException {
        json.writeStartObject();
        if (put.isPresent()) {
            json.writeStringField("fullUrl", put.get().fullUrl());
            json.writeFieldName("resource");
            json.writeRawValue(put.get().resource());
        }
        json.writeObjectFieldStart("request");
        json.writeStringField("method", put.isPresent() ? "PUT" : "DELETE");
        json.writeStringField("url", url);
        json.writeEndObject();
        json.writeEndObject();
    }
}
