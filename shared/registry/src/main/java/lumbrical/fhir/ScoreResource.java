package lumbrical.fhir;

import java.util.ArrayList;
import java.util.Comparator;
import java.util.List;
import java.util.Optional;
import java.util.Set;
import java.util.function.Function;
import java.util.stream.Collectors;
import lumbrical.change.Verdict;
import lumbrical.change.VerdictReason;
import lumbrical.columns.ChangeColumns;
import lumbrical.deidentify.DeidentifiedChange;
import lumbrical.deidentify.DeidentifiedEpisode;
import lumbrical.deidentify.DeidentifiedForm;
import lumbrical.deidentify.DeidentifiedScore;
import lumbrical.instrument.Composition;
import lumbrical.instrument.Scale;
import lumbrical.instrument.ScaleId;
import lumbrical.instrument.Threshold;
import lumbrical.scoring.Reason;
import lumbrical.scoring.ScoreResult;

/**
 * Scores as Observations, each one by itself so that each can be searched; a whole names its parts of the same form and hand as
 * members. A change is an Observation of its own, derived from both scores.
 */
final class ScoreResource {
    private final DeidentifiedEpisode episode;
    private final DeidentifiedForm form;
    private final CodeSystems systems;
    private final ExternalCodes codes;

    ScoreResource(DeidentifiedEpisode episode, DeidentifiedForm form, CodeSystems systems, ExternalCodes codes) {
        this.episode = episode;
        this.form = form;
        this.systems = systems;
        this.codes = codes;
    }

    /** An Observation that can be made with either status. */
    record Identified(String id, Function<String, JsonObject> make) {}

    /** The id of a score of a form. */
    private static String id(String formKey, DeidentifiedScore score) {
        return formKey + "-" + score.key();
    }

    private static Set<ScaleId> partsOf(DeidentifiedScore whole) {
        return whole.scale().composition() instanceof Composition.FromParts sum
                ? sum.parts().stream().map(Composition.Part::scale).collect(Collectors.toSet())
                : Set.of();
    }

    /** The scores of the form, parts before wholes. */
    List<Identified> scores() {
        List<DeidentifiedScore> ordered = new ArrayList<>(form.scores());
        ordered.sort(Comparator.comparing(score -> !partsOf(score).isEmpty()));
        return ordered.stream()
                .map(score -> new Identified(id(form.key(), score), status -> score(score, status)))
                .toList();
    }

    /** The changes that count. */
    List<Identified> changes() {
        List<Identified> changes = new ArrayList<>();
        for (DeidentifiedScore score : form.scores()) {
            score.change()
                    .filter(DeidentifiedChange::used)
                    .ifPresent(change -> changes.add(new Identified(
                            id(form.key(), score) + "-change", status -> change(score, change, status))));
        }
        return changes;
    }

    private JsonObject start(String id, String identifier, String status) {
        return JsonObject.resource("Observation")
                .put("id", id)
                .put("meta", FhirCodes.meta(episode.sender()))
                .put("extension", List.of(FhirCodes.ofEpisode(episode.id())))
                .put("identifier", List.of(FhirCodes.identifier(FhirCodes.SCORE_ID, identifier)))
                .put("status", status)
                .put("category", List.of(survey()));
    }

    private static JsonObject survey() {
        return new JsonObject()
                .put(
                        "coding",
                        List.of(new JsonObject()
                                .put("system", "http://terminology.hl7.org/CodeSystem/observation-category")
                                .put("code", "survey")));
    }

    private JsonObject concept(String system, String code, String display) {
        List<JsonObject> codings = new ArrayList<>();
        codings.add(systems.coding(system, code, display));
        codings.addAll(FhirCodes.added(codes, code));
        return FhirCodes.concept(codings, display);
    }

    private JsonObject term(String code, String display) {
        return concept(FhirCodes.CHANGE_TERMS, code, display);
    }

    private void body(JsonObject resource) {
        resource.put("subject", References.toPatient(episode.subject()))
                .put("effectiveDateTime", form.day().iso());
        FhirCodes.relativeDate(episode.id(), form.day())
                .ifPresent(
                        date -> resource.put("_effectiveDateTime", new JsonObject().put("extension", List.of(date))));
        FormResource.answeredBy(episode, form).ifPresent(who -> resource.put("performer", List.of(who)));
    }

    private JsonObject score(DeidentifiedScore score, String status) {
        JsonObject resource = start(id(form.key(), score), form.key() + "/" + score.key(), status)
                .put(
                        "code",
                        concept(
                                FhirCodes.scores(form.instrument()),
                                FhirCodes.score(form.instrument(), score.scale()),
                                display(score.scale())));
        body(resource);
        value(score, resource);
        note(score).ifPresent(text -> resource.put("note", List.of(new JsonObject().put("text", text))));
        score.side(form)
                .ifPresent(side -> resource.put("bodySite", new JsonObject().put("text", side.code() + " hand")));
        resource.put(
                "method",
                new JsonObject()
                        .put(
                                "text",
                                "scored by definition " + form.instrument().definition()
                                        + ", by the instrument's manual; "
                                        + score.scale().better().code() + " is better"));
        Set<ScaleId> parts = partsOf(score);
        resource.put(
                "hasMember",
                form.scores().stream()
                        .filter(part -> parts.contains(part.scale().id())
                                && part.result().hand().stream()
                                        .allMatch(hand -> score.result().hand().equals(Optional.of(hand))))
                        .map(part -> References.to("Observation", id(form.key(), part)))
                        .toList());
        return resource.put("derivedFrom", List.of(References.to("QuestionnaireResponse", form.key())))
                .put("component", precision(score));
    }

    private String display(Scale scale) {
        return FhirCodes.display(form.instrument(), scale);
    }

    private static void value(DeidentifiedScore score, JsonObject to) {
        Optional<ScoreResult.Scored> scored = score.result().scored();
        if (scored.isPresent()) {
            to.put(
                    "valueQuantity",
                    FhirCodes.points(scored.get().value(), score.scale().metric()));
        } else {
            to.put(
                    "dataAbsentReason",
                    FhirCodes.absent(FhirCodes.absentCode(score.result().reason()), why(score.result())));
        }
    }

    private static String why(ScoreResult result) {
        return result.reason().map(Reason::code).orElse("no score").replace('-', ' ') + ": " + result.answered()
                + " of " + result.items() + " items answered";
    }

    private static Optional<String> note(DeidentifiedScore score) {
        return score.result().outcome() == ScoreResult.Outcome.WITH_MISSING
                ? Optional.of("scored under the instrument's missing-item rule: "
                        + score.result().answered() + " of " + score.result().items() + " items answered")
                : Optional.empty();
    }

    private List<JsonObject> precision(DeidentifiedScore score) {
        return score
                .result()
                .scored()
                .flatMap(ScoreResult.Scored::precision)
                .map(precision -> new JsonObject()
                        .put("code", term(FhirCodes.STANDARD_ERROR, "standard error of the score"))
                        .put(
                                "valueQuantity",
                                FhirCodes.points(
                                        precision.standardError(), score.scale().metric())))
                .stream()
                .toList();
    }

    /** Better or worse, where it is more than measurement error and the verdict says so. */
    private static Optional<JsonObject> betterOrWorse(Verdict verdict) {
        return switch (verdict) {
            case IMPORTANT_IMPROVEMENT, SMALL_IMPROVEMENT -> Optional.of(interpretation("B", "Better"));
            case IMPORTANT_WORSENING, SMALL_WORSENING -> Optional.of(interpretation("W", "Worse"));
            case IMPROVEMENT_WITHIN_ERROR, WORSENING_WITHIN_ERROR, NO_IMPORTANT_CHANGE, NOT_ASSESSABLE ->
                Optional.empty();
        };
    }

    private static JsonObject interpretation(String code, String display) {
        return new JsonObject()
                .put("system", "http://terminology.hl7.org/CodeSystem/v3-ObservationInterpretation")
                .put("code", code)
                .put("display", display);
    }

    private JsonObject change(DeidentifiedScore score, DeidentifiedChange change, String status) {
        JsonObject resource = start(
                        id(form.key(), score) + "-change", form.key() + "/" + score.key() + "/change", status)
                .put(
                        "code",
                        concept(
                                FhirCodes.scores(form.instrument()),
                                FhirCodes.change(form.instrument(), score.scale()),
                                display(score.scale()) + ", change from baseline"));
        body(resource);
        if (change.change().change().isPresent()) {
            resource.put(
                    "valueQuantity",
                    FhirCodes.points(
                            change.change().change().getAsDouble(),
                            score.scale().metric()));
        } else {
            resource.put(
                    "dataAbsentReason",
                    FhirCodes.absent(
                            "not-applicable",
                            change.change().reason().map(VerdictReason::words).orElse("no baseline in the window")));
        }
        List<JsonObject> codings = new ArrayList<>();
        betterOrWorse(change.change().verdict()).ifPresent(codings::add);
        codings.add(systems.coding(
                FhirCodes.VERDICTS,
                change.change().verdict().code(),
                change.change().verdict().words()));
        resource.put(
                "interpretation",
                List.of(FhirCodes.concept(codings, change.change().verdict().words())));
        sources(change).ifPresent(text -> resource.put("note", List.of(new JsonObject().put("text", text))));
        score.side(form)
                .ifPresent(side -> resource.put("bodySite", new JsonObject().put("text", side.code() + " hand")));
        resource.put(
                "method",
                new JsonObject().put("text", "follow-up minus baseline; improvement is positive when better"));
        List<JsonObject> from = new ArrayList<>();
        from.add(References.to("Observation", id(form.key(), score)));
        change.baselineKey()
                .filter(key -> scored(key, score))
                .ifPresent(key -> from.add(References.to("Observation", id(key, score))));
        return resource.put("derivedFrom", from).put("component", ofChange(score, change));
    }

    private boolean scored(String key, DeidentifiedScore score) {
        return episode.forms().stream()
                .filter(f -> f.key().equals(key))
                .flatMap(f -> f.scores().stream())
                .anyMatch(s -> s.key().equals(score.key()));
    }

    private static Optional<String> sources(DeidentifiedChange change) {
        List<String> sources = new ArrayList<>();
        change.change().thresholds().mcid().ifPresent(t -> sources.add("MCID " + ChangeColumns.cite(t)));
        change.change().thresholds().mdc().ifPresent(t -> sources.add("MDC " + ChangeColumns.cite(t)));
        return sources.isEmpty()
                ? Optional.empty()
                : Optional.of(String.join("; ", sources) + ". A threshold holds for the population it came from.");
    }

    private List<JsonObject> ofChange(DeidentifiedScore score, DeidentifiedChange change) {
        List<JsonObject> components = new ArrayList<>();
        change.change()
                .improvement()
                .ifPresent(v -> components.add(new JsonObject()
                        .put("code", term(FhirCodes.IMPROVEMENT, "improvement, positive when better"))
                        .put("valueQuantity", FhirCodes.points(v, score.scale().metric()))));
        change.change()
                .thresholds()
                .mcid()
                .ifPresent(t -> threshold(FhirCodes.MCID, "MCID used", t, score, components));
        change.change().thresholds().mdc().ifPresent(t -> threshold(FhirCodes.MDC, "MDC used", t, score, components));
        return components;
    }

    private void threshold(
            String code, String display, Threshold threshold, DeidentifiedScore score, List<JsonObject> to) {
        threshold
                .value()
                .ifPresent(v -> to.add(new JsonObject()
                        .put("code", term(code, display))
                        .put("valueQuantity", FhirCodes.points(v, score.scale().metric()))));
    }
}
