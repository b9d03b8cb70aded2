package lumbrical.fhir;

import java.util.List;
import java.util.Locale;
import java.util.Optional;
import lumbrical.columns.FhirNames;
import lumbrical.deidentify.DeidentifiedDay;
import lumbrical.deidentify.Sender;
import lumbrical.instrument.Instrument;
import lumbrical.instrument.Metric;
import lumbrical.instrument.ResponseSet;
import lumbrical.instrument.Scale;
import lumbrical.scoring.Reason;

/** Names, codes and small elements that several resources use. */
final class FhirCodes {
    static final String BASE = FhirNames.BASE;

    static final String CHANGE_TERMS = BASE + "/CodeSystem/change-terms";
    static final String VERDICTS = BASE + "/CodeSystem/verdicts";
    static final String OF_EPISODE = FhirNames.OF_EPISODE;
    static final String RELATIVE_DATE = "http://hl7.org/fhir/StructureDefinition/relative-date";
    static final String COMPLETION_MODE = FhirNames.COMPLETION_MODE;
    static final String ATTRIBUTE = FhirNames.ATTRIBUTE;
    static final String SUBJECT_ID = BASE + "/id/subject";
    static final String EPISODE_ID = BASE + "/id/episode";
    static final String FORM_ID = FhirNames.FORM_ID;
    static final String SCORE_ID = BASE + "/id/score";
    static final String SITE = BASE + "/id/site";
    static final String STUDY = BASE + "/id/study";
    static final String STANDARD_ERROR = "standard-error";
    static final String MCID = "mcid";
    static final String MDC = "mdc";
    static final String IMPROVEMENT = "improvement";

    private static final String ABSENT = "http://terminology.hl7.org/CodeSystem/data-absent-reason";

    private FhirCodes() {}

    /** Site and study, as tags that every resource about a patient carries. */
    static JsonObject meta(Sender sender) {
        return new JsonObject()
                .put(
                        "tag",
                        List.of(
                                new JsonObject().put("system", SITE).put("code", sender.site()),
                                new JsonObject().put("system", STUDY).put("code", sender.study())));
    }

    static String questionnaire(Instrument instrument) {
        return FhirNames.QUESTIONNAIRE + instrument.id();
    }

    /** The code system of an instrument's scores. */
    static String scores(Instrument instrument) {
        return BASE + "/CodeSystem/" + instrument.id();
    }

    static String display(Instrument instrument, Scale scale) {
        return instrument.facts().title() + ": " + scale.title();
    }

    /** A name for programs: words with capital initials, without anything between. */
    static String name(String words) {
        StringBuilder name = new StringBuilder();
        for (String word : words.split("[^A-Za-z0-9]+")) {
            if (!word.isEmpty()) {
                name.append(word.substring(0, 1).toUpperCase(Locale.ROOT)).append(word.substring(1));
            }
        }
        return name.toString();
    }

    static String responses(Instrument instrument, ResponseSet set) {
        return BASE + "/CodeSystem/" + instrument.id() + "-" + set.name().toLowerCase(Locale.ROOT);
    }

    /** Code of a score: instrument and scale. */
    static String score(Instrument instrument, Scale scale) {
        return instrument.id() + "-" + scale.id();
    }

    static String change(Instrument instrument, Scale scale) {
        return score(instrument, scale) + "-change";
    }

    /** Codes that a user added to one of ours. */
    static List<JsonObject> added(ExternalCodes codes, String ours) {
        return codes.of(ours).stream()
                .map(other -> new JsonObject()
                        .put("system", other.system())
                        .put("code", other.code())
                        .put("display", other.display()))
                .toList();
    }

    static JsonObject concept(List<JsonObject> codings, String text) {
        return new JsonObject().put("coding", codings).put("text", text);
    }

    static JsonObject identifier(String system, String value) {
        return new JsonObject().put("system", system).put("value", value);
    }

    /** The name of an entry of ours, at an address that nobody has. */
    static String fullUrl(String type, String id) {
        return BASE + "/" + type + "/" + id;
    }

    /** A quantity in points; {@code score} in UCUM is an annotation and stands for 1. */
    static JsonObject points(double value, Metric metric) {
        return new JsonObject()
                .put("value", value)
                .put("unit", metric == Metric.T_SCORE ? "T-score" : "score")
                .put("system", "http://unitsofmeasure.org")
                .put("code", "{score}");
    }

    static JsonObject extension(String url, String member, JsonObject value) {
        return new JsonObject().put("url", url).put(member, value);
    }

    /** A date told by how long it lies before or after the start of the episode, by the standard's extension. */
    static Optional<JsonObject> relativeDate(String episode, DeidentifiedDay day) {
        return day.week().isPresent()
                ? Optional.of(relativeDate(episode, day.week().getAsInt(), "week", "wk"))
                : day.day().isPresent()
                        ? Optional.of(relativeDate(episode, day.day().getAsInt(), "day", "d"))
                        : Optional.empty();
    }

    private static JsonObject relativeDate(String episode, int offset, String unit, String code) {
        JsonObject duration = new JsonObject()
                .put("value", Math.abs((double) offset))
                .put("unit", Math.abs(offset) == 1 ? unit : unit + "s")
                .put("system", "http://unitsofmeasure.org")
                .put("code", code);
        return new JsonObject()
                .put(
                        "extension",
                        List.of(
                                new JsonObject()
                                        .put("url", "event")
                                        .put("valueReference", References.to("EpisodeOfCare", episode)),
                                new JsonObject()
                                        .put("url", "relationship")
                                        .put("valueCode", offset < 0 ? "before-start" : "after-start"),
                                new JsonObject().put("url", "offset").put("valueDuration", duration)))
                .put("url", RELATIVE_DATE);
    }

    static JsonObject ofEpisode(String episode) {
        return extension(OF_EPISODE, "valueReference", References.to("EpisodeOfCare", episode));
    }

    static JsonObject absent(String code, String text) {
        return concept(List.of(new JsonObject().put("system", ABSENT).put("code", code)), text);
    }

    /** The nearest code of the standard for why there is no score; it has none for too many open items. */
    static String absentCode(Optional<Reason> reason) {
        return reason.map(r -> switch (r) {
                    case RESPONSE_NOT_ALLOWED -> "error";
                    case RULE_NOT_PUBLISHED -> "unsupported";
                    case TOO_FEW_ANSWERED, NO_ANSWERS, PART_NOT_SCORED -> "unknown";
                })
                .orElse("unknown");
    }
}
