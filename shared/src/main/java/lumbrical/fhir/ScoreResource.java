package lumbrical.fhir;

import java.util.ArrayList;
import java.util.HashSet;
import java.util.List;
import java.util.Optional;
import java.util.Set;
import lumbrical.deidentify.SharedChange;
import lumbrical.deidentify.SharedEpisode;
import lumbrical.deidentify.SharedForm;
import lumbrical.deidentify.SharedScore;
import lumbrical.instrument.Composition;
import lumbrical.instrument.Range;
import lumbrical.instrument.Scale;
import lumbrical.instrument.ScaleId;
import lumbrical.instrument.Threshold;
import lumbrical.output.ChangeTable;
import lumbrical.scoring.Reason;
import lumbrical.scoring.ScoreResult;

/**
 * Scores as Observations. A scale that is part of another of the same form and hand is a component of it; a change is an
 * Observation of its own, derived from both scores.
 */
final class ScoreResource {
    private final SharedEpisode episode;
    private final SharedForm form;
    private final ExternalCodes codes;
    private final References references;

    ScoreResource(SharedEpisode episode, SharedForm form, ExternalCodes codes, References references) {
        this.episode = episode;
        this.form = form;
        this.codes = codes;
        this.references = references;
    }

    /** An Observation with its identifier. */
    record Identified(String identifier, Element resource) {}

    /** The identifier of a score of a form. */
    static String identifier(String formKey, SharedScore score) {
        return formKey + "/" + score.key();
    }

    /** The scale and hand of the Observation that holds the score: its own, or that of a whole that is no part itself. */
    private static String holder(SharedForm form, SharedScore score) {
        return wholeOf(form, score)
                .filter(whole -> wholeOf(form, whole).isEmpty())
                .map(SharedScore::key)
                .orElse(score.key());
    }

    private static Optional<SharedScore> wholeOf(SharedForm form, SharedScore score) {
        return form.scores().stream()
                .filter(whole -> partsOf(form, whole).contains(score.scale().id())
                        && whole.result().hand().equals(score.result().hand()))
                .findFirst();
    }

    private static List<ScaleId> partsOf(SharedForm form, SharedScore whole) {
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
        for (SharedScore score : form.scores()) {
            if (holder(form, score).equals(score.key())) {
                String identifier = identifier(form.key(), score);
                resources.add(new Identified(identifier, status.of(identifier, s -> score(score, s))));
            }
        }
        for (SharedScore score : form.scores()) {
            score.change().filter(SharedChange::used).ifPresent(change -> {
                String identifier = identifier(form.key(), score) + "/change";
                resources.add(new Identified(identifier, status.of(identifier, s -> change(score, change, s))));
            });
        }
        return resources;
    }

    private Element start(String identifier, String status) {
        Element resource = Element.resource("Observation");
        form.day().day().ifPresent(day -> resource.add("extension", Terms.days(day)));
        return resource.add(
                        "extension",
                        Terms.extension(
                                Terms.EPISODE, "valueIdentifier", Terms.identifier(Terms.EPISODE_ID, episode.id())))
                .put("identifier", List.of(Terms.identifier(Terms.SCORE_ID, identifier)))
                .put("status", status)
                .put("category", List.of(survey()));
    }

    private static Element survey() {
        return new Element()
                .put(
                        "coding",
                        List.of(new Element()
                                .put("system", "http://terminology.hl7.org/CodeSystem/observation-category")
                                .put("code", "survey")));
    }

    private Element concept(String code, String display) {
        List<Element> codings = new ArrayList<>();
        codings.add(Terms.coding(Terms.SCORES, code, display));
        for (ExternalCodes.Code other : codes.of(code)) {
            Element coding = new Element().put("system", other.system()).put("code", other.code());
            codings.add(coding.put("display", other.display()));
        }
        return Terms.concept(codings, display);
    }

    private void body(SharedScore score, Element resource) {
        resource.put("subject", FormResource.subject(episode))
                .put("effectiveDateTime", form.day().iso())
                .put("performer", List.of(FormResource.subject(episode)));
    }

    private Element score(SharedScore score, String status) {
        Element resource = start(identifier(form.key(), score), status)
                .put("code", concept(Terms.score(form.instrument(), score.scale()), display(score.scale())));
        body(score, resource);
        value(score, resource);
        note(score).ifPresent(text -> resource.put("note", List.of(new Element().put("text", text))));
        score.side(form).ifPresent(side -> resource.put("bodySite", new Element().put("text", side.code() + " hand")));
        resource.put(
                "method",
                new Element()
                        .put(
                                "text",
                                "scored by definition " + form.instrument().definition()
                                        + ", by the instrument's manual"));
        resource.put("referenceRange", List.of(range(score.scale())))
                .put("derivedFrom", List.of(references.to("QuestionnaireResponse", Terms.FORM_ID, form.key())))
                .put("component", components(score));
        return resource;
    }

    private String display(Scale scale) {
        return form.instrument().facts().title() + ": " + scale.title();
    }

    private static void value(SharedScore score, Element to) {
        Optional<ScoreResult.Scored> scored = score.result().scored();
        if (scored.isPresent()) {
            to.put(
                    "valueQuantity",
                    Terms.points(scored.get().value(), score.scale().metric()));
        } else {
            to.put(
                    "dataAbsentReason",
                    Terms.absent(Terms.absentCode(score.result().reason()), why(score.result())));
        }
    }

    private static String why(ScoreResult result) {
        return result.reason().map(Reason::code).orElse("no score").replace('-', ' ') + ": " + result.answered()
                + " of " + result.items() + " items answered";
    }

    private static Optional<String> note(SharedScore score) {
        return score.result().outcome() == ScoreResult.Outcome.WITH_MISSING
                ? Optional.of("scored under the instrument's missing-item rule: "
                        + score.result().answered() + " of " + score.result().items() + " items answered")
                : Optional.empty();
    }

    private static Element range(Scale scale) {
        Range range = scale.range();
        return new Element()
                .put("low", Terms.points(range.low(), scale.metric()))
                .put("high", Terms.points(range.high(), scale.metric()))
                .put("text", "possible range; " + scale.better().code() + " is better");
    }

    private List<Element> components(SharedScore score) {
        List<Element> components = new ArrayList<>();
        Set<ScaleId> parts = new HashSet<>(partsOf(form, score));
        for (SharedScore part : form.scores()) {
            if (parts.contains(part.scale().id())
                    && part.result().hand().equals(score.result().hand())
                    && holder(form, part).equals(score.key())) {
                Element component = new Element()
                        .put("code", concept(Terms.score(form.instrument(), part.scale()), display(part.scale())));
                value(part, component);
                components.add(component.put("referenceRange", List.of(range(part.scale()))));
            }
        }
        score.result()
                .scored()
                .flatMap(ScoreResult.Scored::precision)
                .ifPresent(precision -> components.add(new Element()
                        .put("code", concept(Terms.STANDARD_ERROR, "standard error of the score"))
                        .put(
                                "valueQuantity",
                                Terms.points(
                                        precision.standardError(), score.scale().metric()))));
        return components;
    }

    private Element change(SharedScore score, SharedChange change, String status) {
        Element resource = start(identifier(form.key(), score) + "/change", status)
                .put(
                        "code",
                        concept(
                                Terms.change(form.instrument(), score.scale()),
                                display(score.scale()) + ", change from baseline"));
        body(score, resource);
        if (change.change().isPresent()) {
            resource.put(
                    "valueQuantity",
                    Terms.points(change.change().getAsDouble(), score.scale().metric()));
        } else {
            resource.put(
                    "dataAbsentReason",
                    Terms.absent("not-applicable", change.whyNotAssessable().orElse("no baseline in the window")));
        }
        resource.put(
                "interpretation",
                List.of(Terms.concept(
                        List.of(new Element()
                                .put("system", Terms.VERDICTS)
                                .put("code", change.verdict().code())),
                        change.verdict().code().replace('-', ' '))));
        sources(change).ifPresent(text -> resource.put("note", List.of(new Element().put("text", text))));
        score.side(form).ifPresent(side -> resource.put("bodySite", new Element().put("text", side.code() + " hand")));
        resource.put(
                "method", new Element().put("text", "follow-up minus baseline; improvement is positive when better"));
        List<Element> from = new ArrayList<>();
        from.add(references.to("Observation", Terms.SCORE_ID, form.key() + "/" + holder(form, score)));
        baseline(score, change).ifPresent(from::add);
        return resource.put("derivedFrom", from).put("component", ofChange(score, change));
    }

    private Optional<Element> baseline(SharedScore score, SharedChange change) {
        return change.baselineKey()
                .flatMap(key -> episode.forms().stream()
                        .filter(f -> f.key().equals(key))
                        .findFirst())
                .map(before ->
                        references.to("Observation", Terms.SCORE_ID, before.key() + "/" + holder(before, score)));
    }

    private static Optional<String> sources(SharedChange change) {
        List<String> sources = new ArrayList<>();
        change.mcid().ifPresent(t -> sources.add("MCID " + ChangeTable.cite(t)));
        change.mdc().ifPresent(t -> sources.add("MDC " + ChangeTable.cite(t)));
        return sources.isEmpty()
                ? Optional.empty()
                : Optional.of(String.join("; ", sources) + ". A threshold holds for the population it came from.");
    }

    private List<Element> ofChange(SharedScore score, SharedChange change) {
        List<Element> components = new ArrayList<>();
        change.improvement()
                .ifPresent(v -> components.add(new Element()
                        .put("code", concept(Terms.IMPROVEMENT, "improvement, positive when better"))
                        .put("valueQuantity", Terms.points(v, score.scale().metric()))));
        change.mcid().ifPresent(t -> threshold(Terms.MCID, "MCID used", t, score, components));
        change.mdc().ifPresent(t -> threshold(Terms.MDC, "MDC used", t, score, components));
        return components;
    }

    private void threshold(String code, String display, Threshold threshold, SharedScore score, List<Element> to) {
        threshold
                .value()
                .ifPresent(v -> to.add(new Element()
                        .put("code", concept(code, display))
                        .put("valueQuantity", Terms.points(v, score.scale().metric()))));
    }
}
