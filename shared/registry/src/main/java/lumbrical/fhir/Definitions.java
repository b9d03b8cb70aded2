package lumbrical.fhir;

import java.util.ArrayList;
import java.util.List;
import lumbrical.instrument.Column;
import lumbrical.instrument.Instrument;
import lumbrical.instrument.Licence;
import lumbrical.instrument.ResponseSet;

/** The resources that our data refer to: Questionnaires, code systems and their value sets, extensions. */
final class Definitions {
    private static final String CALCULATED =
            "http://hl7.org/fhir/uv/sdc/StructureDefinition/sdc-questionnaire-calculatedExpression";
    private static final String VERSION = "3";

    private Definitions() {}

    /** A canonical resource; its id is of its version too, since another version is another resource. */
    record Named(String type, String id, String url, String version, JsonObject resource) {
        static Named of(String type, String url, String version, JsonObject resource) {
            String id = "lumbrical-" + url.substring(url.lastIndexOf('/') + 1) + "-" + version;
            return new Named(type, id, url, version, resource.first("id", id));
        }
    }

    /** In the order in which they are needed. */
    static List<Named> of(List<Instrument> instruments, CodeSystems systems, ExternalCodes codes) {
        List<Named> all = new ArrayList<>();
        all.add(attribute());
        systems.all().forEach(system -> codes(system, all));
        instruments.forEach(i -> all.add(questionnaire(i, systems, codes)));
        return all;
    }

    /** The canonical of an instrument's Questionnaire: the definition's version, and a mark of the codes that a user added. */
    static String canonical(Instrument instrument, ExternalCodes codes) {
        return FhirCodes.questionnaire(instrument) + "|" + version(instrument, codes);
    }

    private static String version(Instrument instrument, ExternalCodes codes) {
        List<String> added = new ArrayList<>();
        added.add(codes.of(instrument.id().value()).toString());
        instrument
                .columns()
                .forEach(c -> added.add(codes.of(item(instrument, c)).toString()));
        boolean none = added.stream().allMatch(List.of().toString()::equals);
        return instrument.facts().version() + (none ? "" : "-" + CodeSystems.hash(added.toString()));
    }

    private static String item(Instrument instrument, Column column) {
        return instrument.id() + "_" + column.shortName();
    }

    private static JsonObject start(String type, String url, String version, String name, String title) {
        return JsonObject.resource(type)
                .put("url", url)
                .put("version", version)
                .put("name", name)
                .put("title", title)
                .put("status", "active");
    }

    /** A code system and the value set of all its codes. */
    private static void codes(CodeSystems.System system, List<Named> to) {
        String valueSet = system.url().replace("/CodeSystem/", "/ValueSet/");
        to.add(Named.of(
                "CodeSystem",
                system.url(),
                system.version(),
                start("CodeSystem", system.url(), system.version(), system.name(), system.title())
                        .put("experimental", false)
                        .put("caseSensitive", true)
                        .put("valueSet", valueSet)
                        .put("content", "complete")
                        .put("count", system.concepts().size())
                        .put("concept", system.concepts())));
        to.add(Named.of(
                "ValueSet",
                valueSet,
                system.version(),
                start("ValueSet", valueSet, system.version(), system.name() + "ValueSet", system.title())
                        .put("experimental", false)
                        .put(
                                "compose",
                                new JsonObject()
                                        .put(
                                                "include",
                                                List.of(new JsonObject()
                                                        .put("system", system.url())
                                                        .put("version", system.version()))))));
    }

    private static Named questionnaire(Instrument instrument, CodeSystems systems, ExternalCodes codes) {
        String url = FhirCodes.questionnaire(instrument);
        String version = version(instrument, codes);
        List<JsonObject> items = new ArrayList<>();
        instrument.columns().forEach(column -> items.add(item(instrument, column, systems, codes)));
        ScoreExpressions.of(instrument).forEach(score -> items.add(score(score)));
        return Named.of(
                "Questionnaire",
                url,
                version,
                start(
                                "Questionnaire",
                                url,
                                version,
                                FhirCodes.name(instrument.id().value()),
                                instrument.facts().title())
                        .texts("subjectType", List.of("Patient"))
                        .put("copyright", copyright(instrument.facts().licence()))
                        .put("code", FhirCodes.added(codes, instrument.id().value()))
                        .put("item", items));
    }

    private static String copyright(Licence licence) {
        return "Rights: " + licence.holder() + ". Terms: " + licence.terms() + ", granted by " + licence.grantedBy()
                + "."
                + licence.note().map(n -> " " + n).orElse("")
                + " Item texts are topic labels of our own, not the wording of the form.";
    }

    private static JsonObject item(Instrument instrument, Column column, CodeSystems systems, ExternalCodes codes) {
        JsonObject item = new JsonObject();
        if (column.item().responses() instanceof ResponseSet.Continuous range) {
            item.put("extension", List.of(limit("minValue", range.low()), limit("maxValue", range.high())));
        }
        item.put("linkId", column.shortName())
                .put("code", FhirCodes.added(codes, item(instrument, column)))
                .put(
                        "text",
                        column.item().topic()
                                + column.hand().map(h -> ", " + h.code()).orElse(""));
        if (column.item().responses() instanceof ResponseSet.Codes set) {
            List<JsonObject> options = new ArrayList<>();
            for (double value : set.codes()) {
                JsonObject weight = new JsonObject()
                        .put("url", "http://hl7.org/fhir/StructureDefinition/ordinalValue")
                        .put("valueDecimal", value);
                options.add(new JsonObject()
                        .put(
                                "valueCoding",
                                FormResource.response(systems, instrument, set, value)
                                        .first("extension", List.of(weight))));
            }
            return item.put("type", "choice").put("answerOption", options);
        }
        return item.put("type", "decimal");
    }

    /** A score that whoever fills the form in does not answer: its expression gives it. */
    private static JsonObject score(ScoreExpressions.ScoreItem score) {
        JsonObject expression =
                new JsonObject().put("language", "text/fhirpath").put("expression", score.expression());
        return new JsonObject()
                .put("extension", List.of(FhirCodes.extension(CALCULATED, "valueExpression", expression)))
                .put("linkId", score.linkId())
                .put(
                        "text",
                        "Score: " + score.scale().title()
                                + score.hand().map(h -> ", " + h.code()).orElse(""))
                .put("type", "decimal")
                .put("readOnly", true);
    }

    private static JsonObject limit(String name, double value) {
        return new JsonObject()
                .put("url", "http://hl7.org/fhir/StructureDefinition/" + name)
                .put("valueDecimal", value);
    }

    private static JsonObject element(String id, String path, double min, String max) {
        return new JsonObject().put("id", id).put("path", path).put("min", min).put("max", max);
    }

    private static JsonObject fixed(String id, String url) {
        return new JsonObject()
                .put("id", id)
                .put("path", id.replaceAll(":[a-z]+", ""))
                .put("fixedUri", url);
    }

    private static Named attribute() {
        List<JsonObject> elements = new ArrayList<>();
        String title = "A column that the profile lets through, and its value";
        elements.add(
                new JsonObject().put("id", "Extension").put("path", "Extension").put("short", title));
        elements.add(new JsonObject()
                .put("id", "Extension.extension")
                .put("path", "Extension.extension")
                .put(
                        "slicing",
                        new JsonObject()
                                .put(
                                        "discriminator",
                                        List.of(new JsonObject()
                                                .put("type", "value")
                                                .put("path", "url")))
                                .put("rules", "closed"))
                .put("min", 2)
                .put("max", "2"));
        for (String part : List.of("name", "value")) {
            String id = "Extension.extension:" + part;
            elements.add(element(id, "Extension.extension", 1, "1").put("sliceName", part));
            elements.add(element(id + ".extension", "Extension.extension.extension", 0, "0"));
            elements.add(fixed(id + ".url", part));
            elements.add(new JsonObject()
                    .put("id", id + ".value[x]")
                    .put("path", "Extension.extension.value[x]")
                    .put("min", 1)
                    .put("type", List.of(new JsonObject().put("code", "string"))));
        }
        elements.add(fixed("Extension.url", FhirCodes.ATTRIBUTE));
        elements.add(element("Extension.value[x]", "Extension.value[x]", 0, "0"));
        return Named.of(
                "StructureDefinition",
                FhirCodes.ATTRIBUTE,
                VERSION,
                structure(
                        FhirCodes.ATTRIBUTE,
                        "Attribute",
                        title,
                        List.of("EpisodeOfCare", "Patient", "QuestionnaireResponse"),
                        elements));
    }

    private static JsonObject structure(
            String url, String name, String title, List<String> contexts, List<JsonObject> elements) {
        List<JsonObject> where = new ArrayList<>();
        contexts.forEach(c -> where.add(new JsonObject().put("type", "element").put("expression", c)));
        return start("StructureDefinition", url, VERSION, name, title)
                .put("fhirVersion", "4.0.1")
                .put("kind", "complex-type")
                .put("abstract", false)
                .put("context", where)
                .put("type", "Extension")
                .put("baseDefinition", "http://hl7.org/fhir/StructureDefinition/Extension")
                .put("derivation", "constraint")
                .put("differential", new JsonObject().put("element", elements));
    }
}
