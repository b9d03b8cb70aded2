package lumbrical.document;

import com.fasterxml.jackson.core.JsonFactory;
import com.fasterxml.jackson.core.JsonFactoryBuilder;
import com.fasterxml.jackson.core.StreamReadConstraints;
import com.fasterxml.jackson.core.StreamReadFeature;

/** How documents are parsed: strictly, within named limits. */
final class JsonStreams {
    static final JsonFactory FACTORY = new JsonFactoryBuilder()
            .enable(StreamReadFeature.STRICT_DUPLICATE_DETECTION)
            .streamReadConstraints(StreamReadConstraints.builder()
                    .maxNestingDepth(Json.MAX_DEPTH)
                    .maxStringLength(Json.MAX_TEXT)
                    .maxNumberLength(30)
                    .build())
            .build();

    private JsonStreams() {}
}
