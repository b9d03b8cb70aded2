package lumbrical.fhir;

import java.util.List;
import java.util.Map;
import java.util.Optional;
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

    private static final String SEX = "sex";
    private static final String SELF = "self";
    private static final Map<String, String> MODES = Map.of("paper", "WRITTEN", "web", "ELECTRONIC", "phone", "VERBAL");

    /** The person, with what the profile lets through: sex, and the age at the first episode sent. */
    static JsonObject patient(DeidentifiedEpisode first) {
        JsonObject resource =
                JsonObject.resource("Patient").put("id", first.subject()).put("meta", FhirCodes.meta(first.sender()));
        for (String age : List.of("age", "age_band")) {
            Optional.ofNullable(first.attributes().get(age))
                    .ifPresent(value -> resource.add("extension", attribute(age, value)));
        }
        return resource.put("identifier", List.of(FhirCodes.identifier(FhirCodes.SUBJECT_ID, first.subject())))
                .put("gender", Optional.ofNullable(first.attributes().get(SEX)));
    }

    /** Who answered, where the profile tells: the person, or somebody for the person. */
    static Optional<JsonObject> answeredBy(DeidentifiedEpisode episode, DeidentifiedForm form) {
        return Optional.ofNullable(form.attributes().get("respondent"))
                .map(who -> who.equals(SELF)
                        ? References.toPatient(episode.subject())
                        : new JsonObject().put("type", "RelatedPerson").put("display", who));
    }

    /** The episode, with what the profile lets through of it. */
    static JsonObject episode(DeidentifiedEpisode episode) {
        JsonObject resource = JsonObject.resource("EpisodeOfCare")
                .put("id", episode.id())
                .put("meta", FhirCodes.meta(episode.sender()));
        episode.treatedSide().ifPresent(side -> resource.add("extension", attribute("treated_side", side.code())));
        for (Map.Entry<String, String> attribute : episode.attributes().entrySet()) {
            resource.add("extension", attribute(attribute.getKey(), attribute.getValue()));
        }
        resource.put("identifier", List.of(FhirCodes.identifier(FhirCodes.EPISODE_ID, episode.id())))
                .put("status", closed(episode) ? "finished" : "active")
                .put("patient", References.toPatient(episode.subject()));
        episode.index()
                .flatMap(DeidentifiedDay::iso)
                .ifPresent(day -> resource.put("period", new JsonObject().put("start", day)));
        return resource;
    }

    private static boolean closed(DeidentifiedEpisode episode) {
        return episode.attributes().keySet().stream().anyMatch(column -> column.startsWith("closed_"));
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
    static JsonObject form(
            CodeSystems systems,
            ExternalCodes codes,
            DeidentifiedEpisode episode,
            DeidentifiedForm form,
            String status) {
        JsonObject resource = JsonObject.resource("QuestionnaireResponse")
                .put("id", form.key())
                .put("meta", FhirCodes.meta(episode.sender()))
                .put("language", Optional.ofNullable(form.attributes().get("language")));
        resource.add("extension", FhirCodes.ofEpisode(episode.id()));
        form.side().ifPresent(side -> resource.add("extension", attribute("side", side.code())));
        Optional.ofNullable(form.attributes().get("mode"))
                .ifPresent(mode -> resource.add(
                        "extension",
                        FhirCodes.extension(FhirCodes.COMPLETION_MODE, "valueCodeableConcept", mode(mode))));
        resource.put("identifier", FhirCodes.identifier(FhirCodes.FORM_ID, form.key()))
                .put("questionnaire", Definitions.canonical(form.instrument(), codes))
                .put("status", status)
                .put("subject", References.toPatient(episode.subject()))
                .put("authored", form.day().iso());
        FhirCodes.relativeDate(episode.id(), form.day())
                .ifPresent(date -> resource.put("_authored", new JsonObject().put("extension", List.of(date))));
        answeredBy(episode, form).ifPresent(who -> resource.put("source", who));
        return resource.put("item", items(systems, form));
    }

    private static JsonObject mode(String mode) {
        return FhirCodes.concept(
                Optional.ofNullable(MODES.get(mode)).stream()
                        .map(code -> new JsonObject()
                                .put("system", "http://terminology.hl7.org/CodeSystem/v3-ParticipationMode")
                                .put("code", code))
                        .toList(),
                mode);
    }

    private static List<JsonObject> items(CodeSystems systems, DeidentifiedForm form) {
        return form.columnsUsed().stream()
                .map(column -> item(systems, form, column))
                .toList();
    }

    private static JsonObject item(CodeSystems systems, DeidentifiedForm form, Column column) {
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
        value.ifPresent(v -> item.put("answer", List.of(answer(systems, form.instrument(), column, v))));
        return item;
    }

    private static JsonObject answer(CodeSystems systems, Instrument instrument, Column column, double value) {
        return column.item().responses().fold(new ResponseSet.Kinds<>() {
            @Override
            public JsonObject codes(ResponseSet.Codes set) {
                return new JsonObject().put("valueCoding", response(systems, instrument, set, value));
            }

            @Override
            public JsonObject continuous(ResponseSet.Continuous set) {
                return new JsonObject().put("valueDecimal", value);
            }
        });
    }

    /** The coding of a response: its number is its code. */
    static JsonObject response(CodeSystems systems, Instrument instrument, ResponseSet.Codes set, double value) {
        String code = Numbers.format(value);
        return systems.coding(
                FhirCodes.responses(instrument, set), code, set.labels().getOrDefault(value, code));
    }
}
