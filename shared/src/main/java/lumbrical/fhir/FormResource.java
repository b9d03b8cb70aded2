package lumbrical.fhir;

import java.util.List;
import java.util.Map;
import lumbrical.deidentify.SharedEpisode;
import lumbrical.deidentify.SharedForm;
import lumbrical.instrument.Column;
import lumbrical.instrument.Instrument;
import lumbrical.instrument.ResponseSet;
import lumbrical.output.Numbers;

/** An episode as EpisodeOfCare and a form as QuestionnaireResponse. */
final class FormResource {
    private FormResource() {}

    static Element subject(SharedEpisode episode) {
        return Terms.logical("Patient", Terms.SUBJECT_ID, episode.subject());
    }

    /** The episode, with what the profile lets through of it. */
    static Element episode(SharedEpisode episode) {
        Element resource = Element.resource("EpisodeOfCare");
        resource.add(
                "extension", attribute("treated_side", episode.treatedSide().code()));
        for (Map.Entry<String, String> attribute : episode.attributes().entrySet()) {
            resource.add("extension", attribute(attribute.getKey(), attribute.getValue()));
        }
        resource.put("identifier", List.of(Terms.identifier(Terms.EPISODE_ID, episode.id())))
                .put("status", episode.attributes().containsKey("closed_day") ? "finished" : "active")
                .put("patient", subject(episode));
        episode.index().ifPresent(day -> resource.put("period", new Element().put("start", day.iso())));
        return resource;
    }

    private static Element attribute(String name, String value) {
        return new Element()
                .put("url", Terms.ATTRIBUTE)
                .put(
                        "extension",
                        List.of(
                                new Element().put("url", "name").put("valueString", name),
                                new Element().put("url", "value").put("valueString", value)));
    }

    /** @param status {@code completed} or {@code amended} */
    static Element form(SharedEpisode episode, SharedForm form, String status) {
        Element resource = Element.resource("QuestionnaireResponse");
        form.day().day().ifPresent(day -> resource.add("extension", Terms.days(day)));
        resource.add(
                "extension",
                Terms.extension(Terms.EPISODE, "valueIdentifier", Terms.identifier(Terms.EPISODE_ID, episode.id())));
        form.attributes().forEach((name, value) -> resource.add("extension", attribute(name, value)));
        resource.put("identifier", Terms.identifier(Terms.FORM_ID, form.key()))
                .put(
                        "questionnaire",
                        Terms.questionnaire(form.instrument()) + "|"
                                + form.instrument().facts().version())
                .put("status", status)
                .put("subject", subject(episode))
                .put("authored", form.day().iso())
                .put("item", items(form));
        return resource;
    }

    private static List<Element> items(SharedForm form) {
        return form.columnsUsed().stream().map(column -> item(form, column)).toList();
    }

    private static Element item(SharedForm form, Column column) {
        Element item = new Element();
        double value = form.responses().at(column.index());
        boolean allowed = column.item().responses().allows(value);
        if (!allowed && form.responses().entered(column.index())) {
            item.add(
                    "extension",
                    new Element()
                            .put("url", "http://hl7.org/fhir/StructureDefinition/data-absent-reason")
                            .put("valueCode", "error"));
        }
        item.put("linkId", column.shortName());
        if (allowed) {
            item.put("answer", List.of(answer(form.instrument(), column, value)));
        }
        return item;
    }

    private static Element answer(Instrument instrument, Column column, double value) {
        return column.item().responses() instanceof ResponseSet.Codes codes
                ? new Element().put("valueCoding", response(instrument, codes, value))
                : new Element().put("valueDecimal", value);
    }

    /** The coding of a response: its number is its code. */
    static Element response(Instrument instrument, ResponseSet.Codes set, double value) {
        String code = Numbers.format(value);
        return Terms.coding(Terms.responses(instrument, set), code, set.labels().getOrDefault(value, code));
    }
}
