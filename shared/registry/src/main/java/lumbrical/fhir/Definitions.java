package lumbrical.fhir;

import java.util.ArrayList;
import java.util.HashSet;
import java.util.List;
import java.util.Locale;
import java.util.Set;
import lumbrical.followup.Change;
import lumbrical.instrument.Column;
import lumbrical.instrument.Instrument;
import lumbrical.instrument.Licence;
import lumbrical.instrument.ResponseSet;
import lumbrical.instrument.Scale;
import lumbrical.output.Numbers;

/** The resources that our data refer to: Questionnaires, code systems and their value sets, extensions. */
final class Definitions {
    private static final String VERSION = "1";

    private Definitions() {}

    /** A canonical resource. */
    record Named(String type, String url, JsonObject resource) {}

    static List<Named> of(List<Instrument> instruments) {
        List<Named> all = new ArrayList<>();
        extensions(all);
        List<JsonObject> scores = new ArrayList<>();
        instruments.forEach(i -> scores(i, scores));
        scores.add(code(FhirCodes.STANDARD_ERROR, "standard error of the score"));
        scores.add(code(FhirCodes.IMPROVEMENT, "improvement, positive when better"));
        scores.add(code(FhirCodes.MCID, "MCID used"));
        scores.add(code(FhirCodes.MDC, "MDC used"));
        codes(FhirCodes.SCORES, "Scores", "Scores of hand and wrist questionnaires, and their changes", scores, all);
        List<JsonObject> verdicts = new ArrayList<>();
        for (Change.Verdict verdict : Change.Verdict.values()) {
            verdicts.add(code(verdict.code(), verdict.code().replace('-', ' ')));
        }
        codes(FhirCodes.VERDICTS, "Verdicts", "What a change amounts to; worsening mirrors improvement", verdicts, all);
        instruments.forEach(i -> questionnaire(i, all));
        return all;
    }

    private static JsonObject code(String code, String display) {
        return new JsonObject().put("code", code).put("display", display);
    }

    private static void scores(Instrument instrument, List<JsonObject> to) {
        for (Scale scale : instrument.scales()) {
            String display = instrument.facts().title() + ": " + scale.title();
            to.add(code(FhirCodes.score(instrument, scale), display));
            to.add(code(FhirCodes.change(instrument, scale), display + ", change from baseline"));
        }
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
    private static void codes(String url, String name, String title, List<JsonObject> concepts, List<Named> to) {
        String valueSet = url.replace("/CodeSystem/", "/ValueSet/");
        to.add(new Named(
                "CodeSystem",
                url,
                start("CodeSystem", url, VERSION, name, title)
                        .put("experimental", false)
                        .put("caseSensitive", true)
                        .put("valueSet", valueSet)
                        .put("content", "complete")
                        .put("count", concepts.size())
                        .put("concept", concepts)));
        to.add(new Named(
                "ValueSet",
                valueSet,
                start("ValueSet", valueSet, VERSION, name + "ValueSet", title)
                        .put("experimental", false)
                        .put(
                                "compose",
                                new JsonObject().put("include", List.of(new JsonObject().put("system", url))))));
    }

    private static void questionnaire(Instrument instrument, List<Named> to) {
        Set<String> sets = new HashSet<>();
        for (Column column : instrument.columns()) {
            if (column.item().responses() instanceof ResponseSet.Codes set && sets.add(set.name())) {
                List<JsonObject> concepts = new ArrayList<>();
                for (double value : set.codes()) {
                    String code = Numbers.format(value);
                    concepts.add(code(code, set.labels().getOrDefault(value, code)));
                }
                codes(
                        FhirCodes.responses(instrument, set),
                        name(instrument.id() + " " + set.name()),
                        instrument.facts().title() + ": responses",
                        concepts,
                        to);
            }
        }
        String url = FhirCodes.questionnaire(instrument);
        List<JsonObject> items = new ArrayList<>();
        instrument.columns().forEach(column -> items.add(item(instrument, column)));
        to.add(new Named(
                "Questionnaire",
                url,
                start(
                                "Questionnaire",
                                url,
                                instrument.facts().version(),
                                name(instrument.id().value()),
                                instrument.facts().title())
                        .texts("subjectType", List.of("Patient"))
                        .put("copyright", copyright(instrument.facts().licence()))
                        .put("item", items)));
    }

    private static String copyright(Licence licence) {
        return "Rights: " + licence.holder() + ". FhirCodes: " + licence.terms() + ", granted by " + licence.grantedBy()
                + "."
                + licence.note().map(n -> " " + n).orElse("")
                + " Item texts are topic labels of our own, not the wording of the form.";
    }

    /** A name for programs: words with capital initials, without anything between. */
    private static String name(String words) {
        StringBuilder name = new StringBuilder();
        for (String word : words.split("[^A-Za-z0-9]+")) {
            if (!word.isEmpty()) {
                name.append(word.substring(0, 1).toUpperCase(Locale.ROOT)).append(word.substring(1));
            }
        }
        return name.toString();
    }

    private static JsonObject item(Instrument instrument, Column column) {
        JsonObject item = new JsonObject();
        if (column.item().responses() instanceof ResponseSet.Continuous range) {
            item.put("extension", List.of(limit("minValue", range.low()), limit("maxValue", range.high())));
        }
        item.put("linkId", column.shortName())
                .put(
                        "text",
                        column.item().topic()
                                + column.hand().map(h -> ", " + h.code()).orElse(""));
        if (column.item().responses() instanceof ResponseSet.Codes set) {
            List<JsonObject> options = new ArrayList<>();
            for (double value : set.codes()) {
                options.add(new JsonObject()
                        .put(
                                "valueCoding",
                                new JsonObject()
                                        .put(
                                                "extension",
                                                List.of(new JsonObject()
                                                        .put(
                                                                "url",
                                                                "http://hl7.org/fhir/StructureDefinition/ordinalValue")
                                                        .put("valueDecimal", value)))
                                        .put("system", FhirCodes.responses(instrument, set))
                                        .put("code", Numbers.format(value))
                                        .put("display", set.labels().getOrDefault(value, Numbers.format(value)))));
            }
            return item.put("type", "choice").put("answerOption", options);
        }
        return item.put("type", "decimal");
    }

    private static JsonObject limit(String name, double value) {
        return new JsonObject()
                .put("url", "http://hl7.org/fhir/StructureDefinition/" + name)
                .put("valueDecimal", value);
    }

    private static void extensions(List<Named> to) {
        to.add(extension(
                FhirCodes.DAYS,
                "DaysFromIndex",
                "Days from the index date (operation or treatment start) of the episode, negative before it",
                List.of("QuestionnaireResponse", "Observation"),
                "integer"));
        to.add(extension(
                FhirCodes.EPISODE,
                "Episode",
                "The episode: one treatment of one side",
                List.of("QuestionnaireResponse", "Observation"),
                "Identifier"));
        to.add(attribute());
    }

    private static Named extension(String url, String name, String title, List<String> contexts, String type) {
        List<JsonObject> elements = List.of(
                new JsonObject().put("id", "Extension").put("path", "Extension").put("short", title),
                element("Extension.extension", "Extension.extension", 0, "0"),
                fixed("Extension.url", url),
                new JsonObject()
                        .put("id", "Extension.value[x]")
                        .put("path", "Extension.value[x]")
                        .put("min", 1)
                        .put("type", List.of(new JsonObject().put("code", type))));
        return new Named("StructureDefinition", url, structure(url, name, title, contexts, elements));
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
        return new Named(
                "StructureDefinition",
                FhirCodes.ATTRIBUTE,
                structure(
                        FhirCodes.ATTRIBUTE,
                        "Attribute",
                        title,
                        List.of("EpisodeOfCare", "QuestionnaireResponse"),
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
