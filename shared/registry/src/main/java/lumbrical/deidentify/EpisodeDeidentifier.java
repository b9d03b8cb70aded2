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
import lumbrical.followup.AssessedChange;
import lumbrical.followup.AssignedForm;
import lumbrical.followup.AssignedScore;
import lumbrical.followup.Episode;
import lumbrical.followup.EpisodeFollowUp;
import lumbrical.instrument.InstrumentId;
import lumbrical.sitting.ScoredForm;
import lumbrical.sitting.Sitting;

/** Makes the values of one episode that leave the house. */
final class EpisodeDeidentifier {
    private final Profile profile;
    private final Pseudonyms pseudonyms;

    EpisodeDeidentifier(Profile profile, Pseudonyms pseudonyms) {
        this.profile = profile;
        this.pseudonyms = pseudonyms;
    }

    /** What identifies a form within an episode. */
    private record FormId(Sitting.Key sitting, InstrumentId instrument) {
        static FormId of(ScoredForm form) {
            return new FormId(form.sitting().key(), form.instrument().id());
        }
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
        Map<FormId, String> keys = keys(id, episode, byTime);
        List<DeidentifiedForm> forms = new ArrayList<>(byTime.size());
        for (AssignedForm form : byTime) {
            forms.add(form(episode, form, keys, attributes));
        }
        return new DeidentifiedEpisode(
                pseudonyms.subject(episode.patient()),
                id,
                episode.treatedSide(),
                episode.indexDate().map(d -> day(episode, d)),
                attributes.of(episode),
                forms);
    }

    private Map<FormId, String> keys(String id, Episode episode, List<AssignedForm> forms) {
        Map<FormId, String> keys = new HashMap<>();
        Map<String, Integer> seen = new HashMap<>();
        for (AssignedForm assigned : forms) {
            ScoredForm form = assigned.form();
            DeidentifiedDay day = day(episode, form.sitting().completedOn());
            String when = day.day().isPresent() ? "d" + day.day().getAsInt() : day.iso();
            String key = id + "-" + form.instrument().id() + "-" + when;
            int number = seen.merge(key, 1, Integer::sum);
            keys.put(FormId.of(form), number == 1 ? key : key + "-" + number);
        }
        return keys;
    }

    private DeidentifiedForm form(
            Episode episode, AssignedForm assigned, Map<FormId, String> keys, Attributes attributes) {
        Sitting sitting = assigned.form().sitting();
        List<DeidentifiedScore> scores = assigned.scores().stream()
                .map(score -> new DeidentifiedScore(
                        score.scale(),
                        score.result(),
                        score.use(),
                        score.change().map(c -> change(episode, score.use() == AssignedScore.Use.FOLLOW_UP, c, keys))))
                .toList();
        return new DeidentifiedForm(
                keys.getOrDefault(FormId.of(assigned.form()), ""),
                assigned.form().instrument(),
                assigned.form().responses(),
                day(episode, sitting.completedOn()),
                sitting.side(),
                assigned.at().visit(),
                attributes.of(sitting),
                scores);
    }

    private DeidentifiedChange change(
            Episode episode, boolean used, AssessedChange assessed, Map<FormId, String> keys) {
        Optional<ScoredForm> baseline = assessed.baseline().map(AssignedScore::form);
        return new DeidentifiedChange(
                used,
                baseline.flatMap(b -> Optional.ofNullable(keys.get(FormId.of(b)))),
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
