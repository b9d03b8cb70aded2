package lumbrical.deidentify;

import java.time.LocalDate;
import java.time.LocalTime;
import java.time.temporal.ChronoUnit;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.HashMap;
import java.util.IdentityHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalInt;
import lumbrical.followup.AssignedForm;
import lumbrical.followup.AssignedScore;
import lumbrical.followup.Change;
import lumbrical.followup.Episode;
import lumbrical.followup.FollowUpResult;
import lumbrical.sitting.ScoredForm;
import lumbrical.sitting.Sitting;

/** Makes the values of one episode that leave the house. */
final class EpisodeDeidentifier {
    private final FollowUpResult clinic;
    private final Profile profile;
    private final Pseudonyms pseudonyms;
    /** Position in the score rows of the first score of each placed form. */
    private final int[] firstScore;
    /** Position in the changes of the first change of each episode. */
    private final Map<Episode, Integer> firstChange = new IdentityHashMap<>();

    EpisodeDeidentifier(FollowUpResult clinic, Profile profile, Pseudonyms pseudonyms) {
        this.clinic = clinic;
        this.profile = profile;
        this.pseudonyms = pseudonyms;
        this.firstScore = new int[clinic.placed().size()];
        int next = 0;
        for (int i = 0; i < firstScore.length; i++) {
            firstScore[i] = next;
            next += clinic.placed().get(i).form().results().size();
        }
        for (int i = 0; i < clinic.changes().size(); i++) {
            firstChange.putIfAbsent(episodeOf(clinic.changes().get(i)), i);
        }
    }

    private static Episode episodeOf(Change change) {
        return change.followUp().placement().orElseThrow().episode();
    }

    /** @param positions of the forms to send among the clinic's placed forms */
    DeidentifiedEpisode episode(Episode episode, List<Integer> positions, Attributes attributes) {
        String id = pseudonyms.episode(episode.patient(), episode.id());
        Map<AssignedScore, Change> changes = changesOf(episode);
        List<Integer> byTime = new ArrayList<>(positions);
        byTime.sort(Comparator.comparing(
                        (Integer p) -> placed(p).form().sitting(), Comparator.comparing(Sitting::completedOn))
                .thenComparing(p -> placed(p).form().sitting().time().orElse(LocalTime.MIN))
                .thenComparing(p -> placed(p).form().instrument().id()));
        Map<ScoredForm, String> keys = keys(id, episode, byTime);
        List<DeidentifiedForm> forms = new ArrayList<>(byTime.size());
        for (int position : byTime) {
            forms.add(form(episode, position, keys, changes, attributes));
        }
        return new DeidentifiedEpisode(
                pseudonyms.subject(episode.patient()),
                id,
                episode.treatedSide(),
                episode.indexDate().map(d -> day(episode, d)),
                attributes.of(episode),
                forms);
    }

    private AssignedForm placed(int position) {
        return clinic.placed().get(position);
    }

    private Map<AssignedScore, Change> changesOf(Episode episode) {
        Map<AssignedScore, Change> changes = new IdentityHashMap<>();
        int at = firstChange.getOrDefault(episode, clinic.changes().size());
        while (at < clinic.changes().size() && episodeOf(clinic.changes().get(at)) == episode) {
            changes.put(clinic.changes().get(at).followUp(), clinic.changes().get(at));
            at++;
        }
        return changes;
    }

    private Map<ScoredForm, String> keys(String id, Episode episode, List<Integer> positions) {
        Map<ScoredForm, String> keys = new IdentityHashMap<>();
        Map<String, Integer> seen = new HashMap<>();
        for (int position : positions) {
            ScoredForm form = placed(position).form();
            DeidentifiedDay day = day(episode, form.sitting().completedOn());
            String when = day.day().isPresent() ? "d" + day.day().getAsInt() : day.iso();
            String key = id + "-" + form.instrument().id() + "-" + when;
            int number = seen.merge(key, 1, Integer::sum);
            keys.put(form, number == 1 ? key : key + "-" + number);
        }
        return keys;
    }

    private DeidentifiedForm form(
            Episode episode,
            int position,
            Map<ScoredForm, String> keys,
            Map<AssignedScore, Change> changes,
            Attributes attributes) {
        AssignedForm placed = placed(position);
        Sitting sitting = placed.form().sitting();
        List<DeidentifiedScore> scores = new ArrayList<>();
        for (int i = 0; i < placed.form().results().size(); i++) {
            AssignedScore score = clinic.scores().get(firstScore[position] + i);
            scores.add(new DeidentifiedScore(
                    score.scale(),
                    score.result(),
                    score.placement().map(AssignedScore.VisitAssignment::use).orElse(AssignedScore.Use.NOT_USED),
                    Optional.ofNullable(changes.get(score)).map(c -> change(episode, c, keys))));
        }
        return new DeidentifiedForm(
                keys.get(placed.form()),
                placed.form().instrument(),
                placed.form().responses(),
                day(episode, sitting.completedOn()),
                sitting.side(),
                placed.placement().orElseThrow().visit(),
                attributes.of(sitting),
                scores);
    }

    private DeidentifiedChange change(Episode episode, Change change, Map<ScoredForm, String> keys) {
        Optional<ScoredForm> baseline = change.baseline().map(AssignedScore::form);
        return new DeidentifiedChange(
                change.used(),
                baseline.flatMap(b -> Optional.ofNullable(keys.get(b))),
                baseline.map(b -> day(episode, b.sitting().completedOn())),
                change.baselineScore(),
                change.change(),
                change.improvement(),
                change.improvementBounds(),
                change.mdc(),
                change.mcid(),
                change.verdict(),
                change.whyNotAssessable(),
                change.certain(),
                change.pass(),
                change.acceptableState());
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
