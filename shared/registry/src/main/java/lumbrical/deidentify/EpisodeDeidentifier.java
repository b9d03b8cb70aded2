package lumbrical.deidentify;

import java.time.LocalDate;
import java.time.LocalTime;
import java.time.temporal.ChronoUnit;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalInt;
import java.util.Set;
import java.util.stream.Collectors;
import lumbrical.condition.EpisodeCondition;
import lumbrical.followup.AssessedChange;
import lumbrical.followup.AssignedForm;
import lumbrical.followup.AssignedScore;
import lumbrical.followup.Episode;
import lumbrical.followup.EpisodeFollowUp;
import lumbrical.instrument.Side;
import lumbrical.sitting.ScoredForm;
import lumbrical.sitting.Sitting;
import lumbrical.threshold.ThresholdChoice;
import lumbrical.threshold.ThresholdSet;

/** Makes the values of one episode that leave the house. */
final class EpisodeDeidentifier {
    private final Profile profile;
    private final Sender sender;
    private final Pseudonyms pseudonyms;
    private final FormKeys keys;
    private final HandsSent hands;
    private final ThresholdChoice thresholds;
    private final Coarsening coarsening;
    /** By definition and scale. */
    private final Map<String, ThresholdSet> generalThresholds = new HashMap<>();

    /**
     * @param hands about which the answers leave
     * @param coarsening what is left blank
     */
    EpisodeDeidentifier(UploadTerms terms, FormKeys keys, HandsSent hands, Coarsening coarsening) {
        this.profile = terms.profile();
        this.sender = terms.sender();
        this.pseudonyms = terms.pseudonyms();
        this.thresholds = terms.thresholds();
        this.keys = keys;
        this.hands = hands;
        this.coarsening = coarsening;
    }

    /** @param sent the forms to send */
    DeidentifiedEpisode episode(EpisodeFollowUp followUp, List<AssignedForm> sent, Attributes attributes) {
        Episode episode = followUp.episode();
        String id = pseudonyms.episode(episode.patient(), episode.id());
        List<AssignedForm> byTime = new ArrayList<>(sent);
        byTime.sort(
                Comparator.comparing((AssignedForm f) -> f.form().sitting(), Comparator.comparing(Sitting::completedOn))
                        .thenComparing(f -> f.form().sitting().time().orElse(LocalTime.MIN))
                        .thenComparing(f -> f.form().instrument().id()));
        FormKeys.OfEpisode formKeys = keys.ofEpisode(episode);
        Set<String> sentKeys = byTime.stream().map(f -> formKeys.of(f.form())).collect(Collectors.toSet());
        String subject = pseudonyms.subject(episode.patient());
        Map<String, String> ofEpisode = shown(subject, attributes.of(episode));
        boolean toldByThreshold =
                !ofEpisode.containsKey("condition") && !followUp.condition().equals(EpisodeCondition.NONE);
        List<DeidentifiedForm> forms = new ArrayList<>(byTime.size());
        for (AssignedForm form : byTime) {
            List<AssignedScore> scores = toldByThreshold
                    ? form.scores().stream().map(this::againstGeneralThresholds).toList()
                    : form.scores();
            forms.add(form(
                    episode,
                    form,
                    scores,
                    formKeys,
                    sentKeys,
                    shown(subject, attributes.of(form.form().sitting()))));
        }
        return new DeidentifiedEpisode(
                sender,
                subject,
                id,
                sideShown(subject) ? Optional.of(episode.treatedSide()) : Optional.empty(),
                episode.indexDate().map(d -> day(episode, d)),
                ofEpisode,
                forms);
    }

    private Map<String, String> shown(String subject, Map<String, String> values) {
        values.keySet().removeIf(column -> coarsening.blanks(subject, CoarsenedField.of(column)));
        return values;
    }

    private boolean sideShown(String subject) {
        return !coarsening.blanks(subject, CoarsenedField.SIDE);
    }

    private AssignedScore againstGeneralThresholds(AssignedScore score) {
        return score.change().isEmpty()
                ? score
                : score.against(generalThresholds.computeIfAbsent(
                        score.form().instrument().definition() + " "
                                + score.scale().id(),
                        s -> thresholds.thresholds(score.form().instrument(), score.scale(), EpisodeCondition.NONE)));
    }

    private DeidentifiedForm form(
            Episode episode,
            AssignedForm assigned,
            List<AssignedScore> ofForm,
            FormKeys.OfEpisode formKeys,
            Set<String> sentKeys,
            Map<String, String> attributes) {
        Sitting sitting = assigned.form().sitting();
        boolean sideShown = sideShown(pseudonyms.subject(episode.patient()));
        Set<Side> heldBack = hands.heldBack(episode);
        List<DeidentifiedScore> scores = ofForm.stream()
                .filter(score -> score.result().hand().stream().noneMatch(heldBack::contains))
                .map(score -> new DeidentifiedScore(
                        score.scale(),
                        score.result(),
                        score.use(),
                        score.change()
                                .map(c -> change(
                                        episode, score.use() == AssignedScore.Use.FOLLOW_UP, c, formKeys, sentKeys))))
                .toList();
        return new DeidentifiedForm(
                formKeys.of(assigned.form()),
                assigned.form().instrument(),
                HandsSent.leaving(assigned.form().responses(), heldBack),
                day(episode, sitting.completedOn()),
                sideShown ? sitting.side() : Optional.empty(),
                assigned.at().visit(),
                attributes,
                scores,
                heldBack);
    }

    private DeidentifiedChange change(
            Episode episode, boolean used, AssessedChange assessed, FormKeys.OfEpisode formKeys, Set<String> sentKeys) {
        Optional<ScoredForm> baseline = assessed.baseline().map(AssignedScore::form);
        return new DeidentifiedChange(
                used,
                baseline.map(formKeys::of).filter(sentKeys::contains),
                baseline.map(b -> day(episode, b.sitting().completedOn())),
                assessed.change());
    }

    private DeidentifiedDay day(Episode episode, LocalDate date) {
        OptionalInt day = episode.indexDate()
                .map(i -> OptionalInt.of((int) ChronoUnit.DAYS.between(i, date)))
                .orElse(OptionalInt.empty());
        return switch (profile.dates()) {
            case WEEKS_FROM_INDEX ->
                new DeidentifiedDay(
                        OptionalInt.empty(),
                        day.isPresent() ? OptionalInt.of(Math.floorDiv(day.getAsInt(), 7)) : OptionalInt.empty(),
                        OptionalInt.empty(),
                        Optional.empty());
            case DAYS_FROM_INDEX ->
                new DeidentifiedDay(OptionalInt.of(date.getYear()), OptionalInt.empty(), day, Optional.empty());
            case SHIFTED ->
                new DeidentifiedDay(
                        OptionalInt.empty(),
                        OptionalInt.empty(),
                        day,
                        Optional.of(date.plusDays(pseudonyms.shiftDays(episode.patient()))));
        };
    }
}
