package lumbrical.fhir;

import java.util.ArrayList;
import java.util.HashSet;
import java.util.List;
import java.util.Optional;
import java.util.Set;
import lumbrical.change.VerdictReason;
import lumbrical.columns.ChangeColumns;
import lumbrical.deidentify.DeidentifiedChange;
import lumbrical.deidentify.DeidentifiedEpisode;
import lumbrical.deidentify.DeidentifiedForm;
import lumbrical.deidentify.DeidentifiedScore;
import lumbrical.instrument.Composition;
import lumbrical.instrument.Range;
import lumbrical.instrument.Scale;
import lumbrical.instrument.ScaleId;
import lumbrical.instrument.Threshold;
import lumbrical.scoring.Reason;
import lumbrical.scoring.ScoreResult;

/**
 * Scores as Observations. A scale that is part of another of the same form and hand is a component of it; a change is an
 * Observation of its own, derived from both scores.
 */
final class ScoreResource {
    private final DeidentifiedEpisode episode;
    private final DeidentifiedForm form;
    private final ExternalCodes codes;
    private final References references;

    ScoreResource(DeidentifiedEpisode episode, DeidentifiedForm form, ExternalCodes codes, References references) {
        this.episode = episode;
        this.form = form;
        this.codes = codes;
        this.references = references;
    }

    /** An Observation with its identifier. */
    record Identified(String identifier, JsonObject resource) {}

    /** The identifier of a score of a form. */
    static String identifier(String formKey, DeidentifiedScore score) {
        return formKey + "/" + score.key();
    }

    /** The scale and hand of the Observation that holds the score: its own, or that of a whole that is no part itself. */
    private static String holder(DeidentifiedForm form, DeidentifiedScore score) {
        return wholeOf(form, score)
                .filter(whole -> wholeOf(form, whole).isEmpty())
                .map(DeidentifiedScore::key)
                .orElse(score.key());
    }

    private static Optional<DeidentifiedScore> wholeOf(DeidentifiedForm form, DeidentifiedScore score) {
        return form.scores().stream()
                .filter(whole -> partsOf(form, whole).contains(score.scale().id())
                        && whole.result().hand().equals(score.result().hand()))
                .findFirst();
    }

    private static List<ScaleId> partsOf(DeidentifiedForm form, DeidentifiedScore whole) {
        Optional<Scale> scale = form.instrument().scale(whole.scale().id());
        return scale.map(Scale::composition)
                .filter(Composition.FromParts.class::isInstance)
                .map(c -> ((Composition.FromParts) c)
                        .parts().stream().map(Composition.Part::scale).toList())
                .orElse(List.of());
    }

    /** @param status of each Observation by its identifier */
    List<Identified> scores(Status status) {
        List<Identified> resources = new ArrayList<>();
        for (DeidentifiedScore score : form.scores()) {
            if (holder(form, score).equals(score.key())) {
                String identifier = identifier(form.key(), score);
                resources.add(new Identified(identifier, status.of(identifier, s -> score(score, s))));
            }
        }
        for (DeidentifiedScore score : form.scores()) {
            score.change().filter(DeidentifiedChange::used).ifPresent(change -> {
                String identifier = identifier(form.key(), score) + "/change";
                resources.add(new Identified(identifier, status.of(identifier, s -> change(score, change, s))));
            });
        }
        return resources;
    }

    private JsonObject start(String identifier, String status) {
        JsonObject resource = JsonObject.resource("Observation").put("meta", FhirCodes.meta(episode.sender()));
        form.day().day().ifPresent(day -> resource.add("extension", FhirCodes.days(day)));
        return resource.add(
                        "extension",
                        FhirCodes.extension(
                                FhirCodes.EPISODE,
                                "valueIdentifier",
                                FhirCodes.identifier(FhirCodes.EPISODE_ID, episode.id())))
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

    private JsonObject concept(String code, String display) {
        List<JsonObject> codings = new ArrayList<>();
        codings.add(FhirCodes.coding(FhirCodes.SCORES, code, display));
        for (ExternalCodes.Code other : codes.of(code)) {
            JsonObject coding = new JsonObject().put("system", other.system()).put("code", other.code());
            codings.add(coding.put("display", other.display()));
        }
        return FhirCodes.concept(codings, display);
    }

    private void body(DeidentifiedScore score, JsonObject resource) {
        resource.put("subject", FormResource.subject(episode))
                .put("effectiveDateTime", form.day().iso())
                .put("performer", List.of(FormResource.subject(episode)));
    }

    private JsonObject score(DeidentifiedScore score, String status) {
        JsonObject resource = start(identifier(form.key(), score), status)
                .put("code", concept(FhirCodes.score(form.instrument(), score.scale()), display(score.scale())));
        body(score, resource);
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
                                        + ", by the instrument's manual"));
        resource.put("referenceRange", List.of(range(score.scale())))
                .put("derivedFrom", List.of(references.to("QuestionnaireResponse", FhirCodes.FORM_ID, form.key())))
                .put("component", components(score));
        return resource;
    }

    private String display(Scale scale) {
        return form.instrument().facts().title() + ": " + scale.title();
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

    private static JsonObject range(Scale scale) {
        Range range = scale.range();
        return new JsonObject()
                .put("low", FhirCodes.points(range.low(), scale.metric()))
                .put("high", FhirCodes.points(range.high(), scale.metric()))
                .put("text", "possible range; " + scale.better().code() + " is better");
    }

    private List<JsonObject> components(DeidentifiedScore score) {
        List<JsonObject> components = new ArrayList<>();
        Set<ScaleId> parts = new HashSet<>(partsOf(form, score));
        for (DeidentifiedScore part : form.scores()) {
            if (parts.contains(part.scale().id())
                    && part.result().hand().equals(score.result().hand())
                    && holder(form, part).equals(score.key())) {
                JsonObject component = new JsonObject()
                        .put("code", concept(FhirCodes.score(form.instrument(), part.scale()), display(part.scale())));
                value(part, component);
                components.add(component.put("referenceRange", List.of(range(part.scale()))));
            }
        }
        score.result()
                .scored()
                .flatMap(ScoreResult.Scored::precision)
                .ifPresent(precision -> components.add(new JsonObject()
                        .put("code", concept(FhirCodes.STANDARD_ERROR, "standard error of the score"))
                        .put(
                                "valueQuantity",
                                FhirCodes.points(
                                        precision.standardError(), score.scale().metric()))));
        return components;
    }

    private JsonObject change(DeidentifiedScore score, DeidentifiedChange change, String status) {
        JsonObject resource = start(identifier(form.key(), score) + "/change", status)
                .put(
                        "code",
                        concept(
                                FhirCodes.change(form.instrument(), score.scale()),
                                display(score.scale()) + ", change from baseline"));
        body(score, resource);
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
        resource.put(
                "interpretation",
                List.of(FhirCodes.concept(
                        List.of(new JsonObject()
                                .put("system", FhirCodes.VERDICTS)
                                .put("code", change.change().verdict().code())),
                        change.change().verdict().words())));
        sources(change).ifPresent(text -> resource.put("note", List.of(new JsonObject().put("text", text))));
        score.side(form)
                .ifPresent(side -> resource.put("bodySite", new JsonObject().put("text", side.code() + " hand")));
        resource.put(
                "method",
                new JsonObject().put("text", "follow-up minus baseline; improvement is positive when better"));
        List<JsonObject> from = new ArrayList<>();
        from.add(references.to("Observation", FhirCodes.SCORE_ID, form.key() + "/" + holder(form, score)));
        baseline(score, change).ifPresent(from::add);
        return resource.put("derivedFrom", from).put("component", ofChange(score, change));
    }

    private Optional<JsonObject> baseline(DeidentifiedScore score, DeidentifiedChange change) {
        return change.baselineKey()
                .flatMap(key -> episode.forms().stream()
                        .filter(f -> f.key().equals(key))
                        .findFirst())
                .map(before ->
                        references.to("Observation", FhirCodes.SCORE_ID, before.key() + "/" + holder(before, score)));
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
                        .put("code", concept(FhirCodes.IMPROVEMENT, "improvement, positive when better"))
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
                        .put("code", concept(code, display))
                        .put("valueQuantity", FhirCodes.points(v, score.scale().metric()))));
    }
}
