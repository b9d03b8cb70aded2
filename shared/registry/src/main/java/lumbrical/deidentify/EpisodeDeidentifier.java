package lumbrical.deidentify;

import java.time.LocalDate;
import java.time.LocalTime;
import java.time.temporal.ChronoUnit;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalInt;
import java.util.Set;
import java.util.stream.Collectors;
import lumbrical.followup.AssessedChange;
import lumbrical.followup.AssignedForm;
import lumbrical.followup.AssignedScore;
import lumbrical.followup.Episode;
import lumbrical.followup.EpisodeFollowUp;
import lumbrical.instrument.Column;
import lumbrical.instrument.Side;
import lumbrical.scoring.Responses;
import lumbrical.sitting.ScoredForm;
import lumbrical.sitting.Sitting;

/** Makes the values of one episode that leave the house. */
final class EpisodeDeidentifier {
    private final Profile profile;
    private final Sender sender;
    private final Pseudonyms pseudonyms;
    private final FormKeys keys;
    private final Map<String, Set<Side>> refusedSides;

    /** @param refusedSides by patient the sides of episodes that may not be shared */
    EpisodeDeidentifier(
            Profile profile, Sender sender, Pseudonyms pseudonyms, FormKeys keys, Map<String, Set<Side>> refusedSides) {
        this.profile = profile;
        this.sender = sender;
        this.pseudonyms = pseudonyms;
        this.keys = keys;
        this.refusedSides = refusedSides;
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
        Set<String> sentKeys = byTime.stream().map(keys::of).collect(Collectors.toSet());
        List<DeidentifiedForm> forms = new ArrayList<>(byTime.size());
        for (AssignedForm form : byTime) {
            forms.add(form(episode, form, sentKeys, attributes));
        }
        return new DeidentifiedEpisode(
                sender,
                pseudonyms.subject(episode.patient()),
                id,
                episode.treatedSide(),
                episode.indexDate().map(d -> day(episode, d)),
                attributes.of(episode),
                forms);
    }

    private DeidentifiedForm form(Episode episode, AssignedForm assigned, Set<String> sentKeys, Attributes attributes) {
        Sitting sitting = assigned.form().sitting();
        boolean otherHandRefused = refusedSides.getOrDefault(episode.patient(), Set.of()).stream()
                .anyMatch(side -> side != episode.treatedSide());
        List<DeidentifiedScore> scores = assigned.scores().stream()
                .filter(score ->
                        !otherHandRefused || score.result().hand().stream().allMatch(episode.treatedSide()::equals))
                .map(score -> new DeidentifiedScore(
                        score.scale(),
                        score.result(),
                        score.use(),
                        score.change()
                                .map(c -> change(episode, score.use() == AssignedScore.Use.FOLLOW_UP, c, sentKeys))))
                .toList();
        return new DeidentifiedForm(
                keys.of(assigned),
                assigned.form().instrument(),
                otherHandRefused
                        ? ofOneHand(assigned.form().responses(), episode.treatedSide())
                        : assigned.form().responses(),
                day(episode, sitting.completedOn()),
                sitting.side(),
                assigned.at().visit(),
                attributes.of(sitting),
                scores);
    }

    /** What was answered of the person and of that hand; a form asks of both at once. */
    private static Responses ofOneHand(Responses all, Side hand) {
        Responses.Builder kept = Responses.builder(all.instrument());
        for (Column column : all.instrument().columns()) {
            if (column.hand().stream().allMatch(hand::equals)) {
                kept.put(column.index(), all.at(column.index()));
            }
        }
        return kept.build();
    }

    private DeidentifiedChange change(Episode episode, boolean used, AssessedChange assessed, Set<String> sentKeys) {
        Optional<ScoredForm> baseline = assessed.baseline().map(AssignedScore::form);
        return new DeidentifiedChange(
                used,
                baseline.map(b -> keys.of(b, episode.treatedSide())).filter(sentKeys::contains),
                baseline.map(b -> day(episode, b.sitting().completedOn())),
                assessed.change());
    }

    private DeidentifiedDay day(Episode episode, LocalDate date) {
        OptionalInt day = episode.indexDate()
                .map(i -> OptionalInt.of((int) ChronoUnit.DAYS.between(i, date)))
                .orElse(OptionalInt.empty());
        if (profile.dates() == Profile.Dates.DAYS_FROM_INDEX) {
            return new DeidentifiedDay(date.getYear(), day, Optional.empty());
        }
        LocalDate shifted = date.plusDays(pseudonyms.shiftDays(episode.patient()));
        return new DeidentifiedDay(shifted.getYear(), day, Optional.of(shifted));
    }
}
