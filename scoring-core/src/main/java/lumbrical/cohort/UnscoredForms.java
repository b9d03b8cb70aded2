package lumbrical.cohort;

import java.time.LocalTime;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.HashMap;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import lumbrical.followup.AssignedForm;
import lumbrical.followup.EpisodeFollowUp;
import lumbrical.instrument.InstrumentId;
import lumbrical.instrument.ScaleId;
import lumbrical.scoring.Reason;

/** Why forms that came have no score, by episode, visit and instrument. Those with all their scores take no room. */
final class UnscoredForms {
    private static final Comparator<AssignedForm> BY_TIME = Comparator.comparing(
                    (AssignedForm f) -> f.form().sitting().completedOn())
            .thenComparing(f -> f.form().sitting().time().orElse(LocalTime.MIN));

    private record Key(int episode, int visit, InstrumentId instrument) {}

    /**
     * Why a form has no score.
     *
     * @param enteredTwice whether it was entered twice with different answers
     * @param reasons of each scale without a score, of the first form of the visit that has none
     */
    record Why(boolean enteredTwice, Map<ScaleId, Reason> reasons) {
        private static final Why NOT_KNOWN = new Why(false, Map.of());

        Reason reason(ScaleId scale) {
            return reasons.getOrDefault(scale, Reason.NO_ANSWERS);
        }
    }

    private final Visits visits;
    private final Map<Key, Why> whys = new HashMap<>();

    UnscoredForms(Visits visits) {
        this.visits = visits;
    }

    /** Takes the forms of an episode. */
    void add(int position, EpisodeFollowUp episode) {
        Map<Key, List<AssignedForm>> came = new LinkedHashMap<>();
        episode.received().forEach(form -> form.at().visit().ifPresent(visit -> came.computeIfAbsent(
                        new Key(
                                position,
                                visits.indexOf(visit),
                                form.form().instrument().id()),
                        k -> new ArrayList<>(1))
                .add(form)));
        came.forEach((key, forms) -> {
            if (forms.size() > 1 || forms.get(0).contradicted() || !allScored(forms.get(0))) {
                whys.put(key, why(forms));
            }
        });
    }

    private static boolean allScored(AssignedForm form) {
        return form.scores().stream().allMatch(s -> s.result().scored().isPresent());
    }

    private static Why why(List<AssignedForm> came) {
        Map<ScaleId, Reason> reasons = new HashMap<>();
        came.stream()
                .sorted(BY_TIME)
                .filter(f -> !f.contradicted())
                .flatMap(AssignedForm::scoresOfTreatedHand)
                .forEach(s -> s.result()
                        .reason()
                        .ifPresent(reason -> reasons.putIfAbsent(s.scale().id(), reason)));
        return new Why(came.stream().allMatch(AssignedForm::contradicted), reasons);
    }

    /** Why the form that an episode sent has no score. */
    Why of(int episode, int visit, InstrumentId instrument) {
        return whys.getOrDefault(new Key(episode, visit, instrument), Why.NOT_KNOWN);
    }
}
