package lumbrical.questionnaire;

import com.fasterxml.jackson.core.JsonParser;
import com.fasterxml.jackson.core.JsonToken;
import java.io.IOException;
import java.math.BigDecimal;
import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import lumbrical.columns.FhirNames;
import lumbrical.questionnaire.FhirForm.Answer;
import lumbrical.questionnaire.FhirForm.Identifier;

/**
 * Collects the members of one resource that matter of a QuestionnaireResponse. What is of another kind than the standard says makes the
 * form unusable and is passed over, so that the rest of the file can be read.
 */
final class FormBuilder {
    /** Items of one form, groups included; the longest form of the trade has under 200. Ours. */
    private static final int ITEMS = 5_000;
    /** Answers of one item. Ours. */
    private static final int ANSWERS = 100;
    /** Largest power of ten of a number written as 1e3. Ours. */
    private static final int EXPONENT = 30;

    /** The values of an answer that are no objects. Source: FHIR R4 (4.0.1), QuestionnaireResponse.item.answer.value[x]. */
    private static final Set<String> ANSWER_KINDS = Set.of(
            "valueBoolean",
            "valueDecimal",
            "valueInteger",
            "valueDate",
            "valueDateTime",
            "valueTime",
            "valueString",
            "valueUri");

    private static final String SELF = "self";
    private static final String PROXY = "proxy";

    private final JsonParser json;
    private final int number;
    private Optional<String> questionnaire = Optional.empty();
    private String status = "";
    private Optional<String> authored = Optional.empty();
    private Optional<Identifier> identifier = Optional.empty();
    private Optional<String> patient = Optional.empty();
    private Optional<String> episode = Optional.empty();
    private Optional<String> side = Optional.empty();
    private Optional<String> mode = Optional.empty();
    private Optional<String> respondent = Optional.empty();
    private Optional<String> language = Optional.empty();
    private Optional<String> fault = Optional.empty();
    private final Map<String, String> answers = new LinkedHashMap<>();
    private int items;

    FormBuilder(JsonParser json, int number) {
        this.json = json;
        this.number = number;
    }

    FhirForm build() {
        List<Answer> all = new ArrayList<>(answers.size());
        answers.forEach((linkId, text) -> all.add(new Answer(linkId, text)));
        return new FhirForm(
                number,
                questionnaire,
                status,
                authored,
                identifier,
                patient,
                episode,
                side,
                mode,
                respondent,
                language,
                all,
                fault);
    }

    /** Takes the member whose value begins here, whole. */
    void member(String name, JsonToken value) throws IOException {
        switch (name) {
            case "questionnaire" -> questionnaire = text(name, value);
            case "status" -> status = text(name, value).orElse("");
            case "authored" -> authored = text(name, value);
            case "language" -> language = text(name, value);
            case "identifier" -> identifier = value == JsonToken.START_OBJECT ? identifier() : none(name, value);
            case "subject" -> patient = value == JsonToken.START_OBJECT ? subject() : none(name, value);
            case "source" -> source(name, value);
            case "extension" -> elements(name, value, this::extension);
            case "item" -> elements(name, value, this::item);
            default -> json.skipChildren();
        }
    }

    private void wrong(String name, String kind) {
        if (fault.isEmpty()) {
            fault = Optional.of(name + " is not " + kind);
        }
    }

    private Optional<String> text(String name, JsonToken value) throws IOException {
        if (value == JsonToken.VALUE_STRING) {
            return Optional.of(json.getText()).filter(t -> !t.isBlank());
        }
        if (value != JsonToken.VALUE_NULL) {
            wrong(name, "a text");
        }
        json.skipChildren();
        return Optional.empty();
    }

    private <T> Optional<T> none(String name, JsonToken value) throws IOException {
        if (value != JsonToken.VALUE_NULL) {
            wrong(name, "an object");
        }
        json.skipChildren();
        return Optional.empty();
    }

    private interface Element {
        void read() throws IOException;
    }

    private void elements(String name, JsonToken value, Element element) throws IOException {
        if (value != JsonToken.START_ARRAY) {
            if (value != JsonToken.VALUE_NULL) {
                wrong(name, "a list");
            }
            json.skipChildren();
            return;
        }
        for (JsonToken next = json.nextToken(); next != JsonToken.END_ARRAY; next = json.nextToken()) {
            if (next == JsonToken.START_OBJECT) {
                element.read();
            } else {
                wrong("an element of " + name, "an object");
                json.skipChildren();
            }
        }
    }

    private interface Member {
        /** Must take the value whole. */
        void take(String name, JsonToken value) throws IOException;
    }

    private void object(Member member) throws IOException {
        while (json.nextToken() != JsonToken.END_OBJECT) {
            String name = json.currentName();
            member.take(name, json.nextToken());
        }
    }

    private Optional<Identifier> identifier() throws IOException {
        String[] parts = {"", ""};
        object((name, value) -> {
            if (name.equals("system")) {
                parts[0] = text("identifier.system", value).orElse("");
            } else if (name.equals("value")) {
                parts[1] = text("identifier.value", value).orElse("");
            } else {
                json.skipChildren();
            }
        });
        return parts[1].isEmpty() ? Optional.empty() : Optional.of(new Identifier(parts[0], parts[1]));
    }

    /** A reference: where it points, and the identifier it carries. Its display may be a name and is never looked at. */
    private static final class Pointer {
        private Optional<String> reference = Optional.empty();
        private Optional<String> type = Optional.empty();
        private Optional<Identifier> identifier = Optional.empty();

        /** The kind of resource that it points to, if it says so. */
        Optional<String> kind() {
            return type.or(() -> reference.map(References::kind).filter(k -> !k.isEmpty()));
        }
    }

    private Pointer pointer(String of) throws IOException {
        Pointer pointer = new Pointer();
        object((name, value) -> {
            switch (name) {
                case "reference" -> pointer.reference = text(of + ".reference", value);
                case "type" -> pointer.type = text(of + ".type", value);
                case "identifier" ->
                    pointer.identifier =
                            value == JsonToken.START_OBJECT ? identifier() : none(of + ".identifier", value);
                default -> json.skipChildren();
            }
        });
        return pointer;
    }

    private Optional<String> subject() throws IOException {
        Pointer pointer = pointer("subject");
        if (pointer.kind().filter(k -> !k.equals("Patient")).isPresent()) {
            return Optional.empty();
        }
        return pointer.identifier.map(Identifier::value).or(() -> pointer.reference.flatMap(References::id));
    }

    private void source(String name, JsonToken value) throws IOException {
        if (value != JsonToken.START_OBJECT) {
            none(name, value);
            return;
        }
        respondent = pointer(name).kind().flatMap(kind -> switch (kind) {
            case "Patient" -> Optional.of(SELF);
            case "RelatedPerson" -> Optional.of(PROXY);
            default -> Optional.empty();
        });
    }

    /** An extension of the form: how it was filled in, for which episode, of which side. */
    private void extension() throws IOException {
        String[] url = {""};
        Pointer[] reference = {new Pointer()};
        String[] concept = {"", ""};
        Map<String, String> parts = new LinkedHashMap<>();
        object((name, value) -> {
            if (name.equals("url")) {
                url[0] = text("extension.url", value).orElse("");
            } else if (name.equals("valueReference") && value == JsonToken.START_OBJECT) {
                reference[0] = pointer("extension.valueReference");
            } else if (name.equals("valueCodeableConcept") && value == JsonToken.START_OBJECT) {
                concept(concept);
            } else if (name.equals("extension") && value == JsonToken.START_ARRAY) {
                elements("extension.extension", value, () -> attributePart(parts));
            } else {
                json.skipChildren();
            }
        });
        switch (url[0]) {
            case FhirNames.OF_EPISODE -> episode = reference[0].reference.flatMap(References::id);
            case FhirNames.COMPLETION_MODE ->
                mode = Optional.of(concept[0].isEmpty() ? concept[1] : concept[0])
                        .filter(m -> !m.isEmpty());
            case FhirNames.ATTRIBUTE -> {
                if ("side".equals(parts.get("name"))) {
                    side = Optional.ofNullable(parts.get("value"));
                }
            }
            default -> {} // says nothing that we know
        }
    }

    private void concept(String[] textAndCode) throws IOException {
        object((name, value) -> {
            if (name.equals("text")) {
                textAndCode[0] = text("text", value).orElse("");
            } else if (name.equals("coding")) {
                elements(
                        "coding",
                        value,
                        () -> object((n, v) -> {
                            if (n.equals("code")) {
                                textAndCode[1] = text("coding.code", v).orElse("");
                            } else {
                                json.skipChildren();
                            }
                        }));
            } else {
                json.skipChildren();
            }
        });
    }

    private void attributePart(Map<String, String> parts) throws IOException {
        String[] part = {"", ""};
        object((name, value) -> {
            if (name.equals("url")) {
                part[0] = text("url", value).orElse("");
            } else if (name.equals("valueString")) {
                part[1] = text("valueString", value).orElse("");
            } else {
                json.skipChildren();
            }
        });
        parts.put(part[0], part[1]);
    }

    private void item() throws IOException {
        if (++items > ITEMS) {
            throw new TooMuchException(number, "a form of more than " + ITEMS + " items");
        }
        String[] linkId = {""};
        List<String> texts = new ArrayList<>(1);
        boolean[] error = {false};
        object((name, value) -> {
            switch (name) {
                case "linkId" -> linkId[0] = text("linkId", value).orElse("");
                case "answer" -> elements("answer", value, () -> answer(texts));
                case "item" -> elements("item", value, this::item);
                case "extension" -> elements("extension", value, () -> error[0] |= isError());
                default -> json.skipChildren();
            }
        });
        if (linkId[0].isEmpty()) {
            wrong("the linkId of an item", "there");
            return;
        }
        if (texts.isEmpty() && error[0]) {
            texts.add("error");
        }
        if (!texts.isEmpty()) { // a linkId that stands twice, as in a repeated group: both answers, as two ticks
            answers.merge(linkId[0], String.join(", ", texts), (before, now) -> before + ", " + now);
        }
    }

    /** Whether an extension says that the answer was wrong, as ours do of a response that the item does not allow. */
    private boolean isError() throws IOException {
        String[] parts = {"", ""};
        object((name, value) -> {
            if (name.equals("url")) {
                parts[0] = text("extension.url", value).orElse("");
            } else if (name.equals("valueCode")) {
                parts[1] = text("extension.valueCode", value).orElse("");
            } else {
                json.skipChildren();
            }
        });
        return parts[0].equals(FhirNames.DATA_ABSENT_REASON) && parts[1].equals("error");
    }

    /** An answer holds one value; several stand beside each other as two ticks do, so that none of them is chosen. */
    private void answer(List<String> texts) throws IOException {
        Map<String, String> found = new LinkedHashMap<>();
        object((name, value) -> {
            if (name.equals("item")) {
                elements("item", value, this::item);
            } else if (name.startsWith("value") && value != JsonToken.VALUE_NULL) {
                found.put(name, value(name, value));
            } else {
                json.skipChildren();
            }
        });
        if (found.size() > 1) {
            found.replaceAll((name, text) -> text.isBlank() ? named(name) : text);
        }
        String text = String.join(", ", found.values());
        if (!text.isBlank()) {
            texts.add(text);
            if (texts.size() > ANSWERS) {
                throw new TooMuchException(number, "an item of more than " + ANSWERS + " answers");
            }
        }
    }

    /** The text of a value; blank if it is a blank text. A value of a kind that no answer has is named, and so never blank. */
    private String value(String name, JsonToken value) throws IOException {
        return switch (value) {
            case START_OBJECT ->
                switch (name) {
                    case "valueCoding" -> coding();
                    case "valueQuantity" -> quantity();
                    default -> {
                        json.skipChildren();
                        yield named(name);
                    }
                };
            case VALUE_STRING, VALUE_TRUE, VALUE_FALSE -> ANSWER_KINDS.contains(name) ? json.getText() : named(name);
            case VALUE_NUMBER_INT, VALUE_NUMBER_FLOAT ->
                ANSWER_KINDS.contains(name) ? plain(json.getText()) : named(name);
            case START_ARRAY -> {
                wrong(name, "one value");
                json.skipChildren();
                yield "";
            }
            default -> "";
        };
    }

    private static String named(String name) {
        return "(" + name + ")";
    }

    /** A number without an exponent, where it is of a size that a response can have. */
    private static String plain(String written) {
        if (written.indexOf('e') < 0 && written.indexOf('E') < 0) {
            return written;
        }
        BigDecimal number = new BigDecimal(written);
        boolean small = Math.abs((long) number.scale()) <= EXPONENT && number.precision() <= EXPONENT;
        return small ? number.stripTrailingZeros().toPlainString() : written;
    }

    /** The code; where that is no number, the weight that the coding carries; without a code, its display. */
    private String coding() throws IOException {
        String[] parts = {"", "", ""};
        object((name, value) -> {
            switch (name) {
                case "code" ->
                    parts[0] = value.isNumeric()
                            ? plain(json.getText())
                            : text(name, value).orElse("");
                case "display" -> parts[1] = text(name, value).orElse("");
                case "extension" -> elements(name, value, () -> weight().ifPresent(w -> parts[2] = w));
                default -> json.skipChildren();
            }
        });
        boolean numeric = lumbrical.tabular.Cells.number(parts[0]).isPresent();
        if (!numeric && !parts[2].isEmpty()) {
            return parts[2];
        }
        String text = parts[0].isEmpty() ? parts[1] : parts[0];
        return text.isEmpty() ? named("valueCoding") : text;
    }

    private Optional<String> weight() throws IOException {
        String[] parts = {"", ""};
        object((name, value) -> {
            if (name.equals("url")) {
                parts[0] = text("extension.url", value).orElse("");
            } else if (name.equals("valueDecimal") && value.isNumeric()) {
                parts[1] = plain(json.getText());
            } else {
                json.skipChildren();
            }
        });
        return FhirNames.WEIGHTS.contains(parts[0]) && !parts[1].isEmpty() ? Optional.of(parts[1]) : Optional.empty();
    }

    /**
     * The value; with its unit, which no item allows, unless the unit is a plain number's or a score's, and with its comparator: less
     * than 3 is not 3.
     */
    private String quantity() throws IOException {
        String[] parts = {"", "", "", ""};
        object((name, value) -> {
            switch (name) {
                case "value" ->
                    parts[0] = value.isNumeric()
                            ? plain(json.getText())
                            : text(name, value).orElse("");
                case "unit" -> parts[1] = text(name, value).orElse("");
                case "code" -> parts[2] = text(name, value).orElse("");
                case "comparator" ->
                    parts[3] = text(name, value).map(c -> c + " ").orElse("");
                default -> json.skipChildren();
            }
        });
        String unit = parts[2].isEmpty() ? parts[1] : parts[2];
        String written = parts[3] + parts[0];
        if (written.isEmpty() && unit.isEmpty()) {
            return named("valueQuantity");
        }
        return FhirNames.NO_UNIT.contains(unit) ? written : written + " " + unit;
    }
}
