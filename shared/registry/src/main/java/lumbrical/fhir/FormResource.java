package lumbrical.fhir;

import java.util.List;
import java.util.Map;
import java.util.OptionalDouble;
import lumbrical.deidentify.DeidentifiedDay;
import lumbrical.deidentify.DeidentifiedEpisode;
import lumbrical.deidentify.DeidentifiedForm;
import lumbrical.instrument.Column;
import lumbrical.instrument.Instrument;
import lumbrical.instrument.ResponseSet;
import lumbrical.number.Numbers;

/** An episode as EpisodeOfCare and a form as QuestionnaireResponse. */
final class FormResource {
    private FormResource() {}

    static JsonObject subject(DeidentifiedEpisode episode) {
        return FhirCodes.logical("Patient", FhirCodes.SUBJECT_ID, episode.subject());
    }

    /** The episode, with what the profile lets through of it. */
    static JsonObject episode(DeidentifiedEpisode episode) {
        JsonObject resource = JsonObject.resource("EpisodeOfCare").put("meta", FhirCodes.meta(episode.sender()));
        episode.treatedSide().ifPresent(side -> resource.add("extension", attribute("treated_side", side.code())));
        for (Map.Entry<String, String> attribute : episode.attributes().entrySet()) {
            resource.add("extension", attribute(attribute.getKey(), attribute.getValue()));
        }
        resource.put("identifier", List.of(FhirCodes.identifier(FhirCodes.EPISODE_ID, episode.id())))
                .put("status", episode.attributes().containsKey("closed_day") ? "finished" : "active")
                .put("patient", subject(episode));
        episode.index()
                .flatMap(DeidentifiedDay::iso)
                .ifPresent(day -> resource.put("period", new JsonObject().put("start", day)));
        return resource;
    }

    private static JsonObject attribute(String name, String value) {
        return new JsonObject()
                .put("url", FhirCodes.ATTRIBUTE)
                .put(
                        "extension",
                        List.of(
                                new JsonObject().put("url", "name").put("valueString", name),
                                new JsonObject().put("url", "value").put("valueString", value)));
    }

    /** @param status {@code completed} or {@code amended} */
    static JsonObject form(DeidentifiedEpisode episode, DeidentifiedForm form, String status) {
        JsonObject resource =
                JsonObject.resource("QuestionnaireResponse").put("meta", FhirCodes.meta(episode.sender()));
        form.day().day().ifPresent(day -> resource.add("extension", FhirCodes.days(day)));
        resource.add(
                "extension",
                FhirCodes.extension(
                        FhirCodes.EPISODE,
                        "valueIdentifier",
                        FhirCodes.identifier(FhirCodes.EPISODE_ID, episode.id())));
        form.attributes().forEach((name, value) -> resource.add("extension", attribute(name, value)));
        resource.put("identifier", FhirCodes.identifier(FhirCodes.FORM_ID, form.key()))
                .put(
                        "questionnaire",
                        FhirCodes.questionnaire(form.instrument()) + "|"
                                + form.instrument().facts().version())
                .put("status", status)
                .put("subject", subject(episode))
                .put("authored", form.day().iso())
                .put("item", items(form));
        return resource;
    }

    private static List<JsonObject> items(DeidentifiedForm form) {
        return form.columnsUsed().stream().map(column -> item(form, column)).toList();
    }

    private static JsonObject item(DeidentifiedForm form, Column column) {
        JsonObject item = new JsonObject();
        OptionalDouble value = form.responses().allowed(column);
        if (value.isEmpty() && form.responses().entered(column.index())) {
            item.add(
                    "extension",
                    new JsonObject()
                            .put("url", "http://hl7.org/fhir/StructureDefinition/data-absent-reason")
                            .put("valueCode", "error"));
        }
        item.put("linkId", column.shortName());
        value.ifPresent(v -> item.put("answer", List.of(answer(form.instrument(), column, v))));
        return item;
    }

    private static JsonObject answer(Instrument instrument, Column column, double value) {
        return column.item().responses().fold(new ResponseSet.Kinds<>() {
            @Override
            public JsonObject codes(ResponseSet.Codes set) {
                return new JsonObject().put("valueCoding", response(instrument, set, value));
            }

            @Override
            public JsonObject continuous(ResponseSet.Continuous set) {
                return new JsonObject().put("valueDecimal", value);
            }
        });
    }

    /** The coding of a response: its number is its code. */
    static JsonObject response(Instrument instrument, ResponseSet.Codes set, double value) {
        String code = Numbers.format(value);
        return FhirCodes.coding(
                FhirCodes.responses(instrument, set), code, set.labels().getOrDefault(value, code));
    }
}
