package lumbrical.fhir;

import java.nio.charset.StandardCharsets;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import java.util.UUID;
import lumbrical.deidentify.Sender;
import lumbrical.instrument.Instrument;
import lumbrical.instrument.Metric;
import lumbrical.instrument.ResponseSet;
import lumbrical.instrument.Scale;
import lumbrical.scoring.Reason;

/** Names, codes and small elements that several resources use. */
final class FhirCodes {
    /** Root of our canonical names; the domain is reserved for examples (RFC 2606), so it belongs to nobody. */
    static final String BASE = "https://lumbrical.example/fhir";

    static final String SCORES = BASE + "/CodeSystem/scores";
    static final String VERDICTS = BASE + "/CodeSystem/verdicts";
    static final String DAYS = BASE + "/StructureDefinition/days-from-index";
    static final String EPISODE = BASE + "/StructureDefinition/episode";
    static final String ATTRIBUTE = BASE + "/StructureDefinition/attribute";
    static final String SUBJECT_ID = BASE + "/id/subject";
    static final String EPISODE_ID = BASE + "/id/episode";
    static final String FORM_ID = BASE + "/id/form";
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
        return BASE + "/Questionnaire/" + instrument.id();
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

    static JsonObject coding(String system, String code, String display) {
        return new JsonObject().put("system", system).put("code", code).put("display", display);
    }

    static JsonObject concept(List<JsonObject> codings, String text) {
        return new JsonObject().put("coding", codings).put("text", text);
    }

    static JsonObject identifier(String system, String value) {
        return new JsonObject().put("system", system).put("value", value);
    }

    /** A reference by identifier, to something that may stand elsewhere. */
    static JsonObject logical(String type, String system, String value) {
        return new JsonObject().put("type", type).put("identifier", identifier(system, value));
    }

    /** A name of an entry that is the same each time: a name-based UUID (RFC 4122) of its identifier. */
    static String fullUrl(String system, String value) {
        return "urn:uuid:" + UUID.nameUUIDFromBytes((system + "|" + value).getBytes(StandardCharsets.UTF_8));
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

    static JsonObject days(int day) {
        return new JsonObject().put("url", DAYS).put("valueInteger", day);
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
