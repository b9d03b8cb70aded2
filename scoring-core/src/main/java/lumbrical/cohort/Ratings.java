package lumbrical.cohort;

import java.util.ArrayList;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalInt;
import lumbrical.followup.AssignedForm;
import lumbrical.followup.AssignedScore;
import lumbrical.followup.EpisodeFollowUp;
import lumbrical.instrument.ChangeRule;
import lumbrical.instrument.Direction;
import lumbrical.instrument.Instrument;
import lumbrical.instrument.ResponseSet;
import lumbrical.instrument.Scale;
import lumbrical.sitting.Sitting;

/** What patients say of their change (the anchor), by episode and sitting, in steps from unchanged. */
final class Ratings {
    private static final Ratings NONE = new Ratings(List.of());

    private final List<Map<Sitting.Key, Integer>> steps;

    private Ratings(List<Map<Sitting.Key, Integer>> steps) {
        this.steps = steps;
    }

    static Ratings none() {
        return NONE;
    }

    /** The ratings by {@code anchor} of each episode. */
    static Ratings of(Instrument anchor, List<EpisodeFollowUp> episodes) {
        List<Map<Sitting.Key, Integer>> steps = new ArrayList<>(episodes.size());
        for (EpisodeFollowUp episode : episodes) {
            Map<Sitting.Key, Integer> own = new HashMap<>();
            for (AssignedForm form : episode.forms()) {
                if (form.form().instrument().id().equals(anchor.id())
                        && form.leftOut().isEmpty()) {
                    scaleOf(form.form().instrument()).ifPresent(scale -> form.scoresOfTreatedHand()
                            .filter(s -> s.scale().id().equals(scale.id()))
                            .forEach(s -> put(s, scale, own)));
                }
            }
            steps.add(own);
        }
        return new Ratings(steps);
    }

    private static void put(AssignedScore score, Scale scale, Map<Sitting.Key, Integer> own) {
        score.result().scored().ifPresent(s -> own.put(score.form().sitting().key(), stepsOf(scale, s.value())));
    }

    /** The rating at a sitting of an episode, in steps: 0 unchanged, 1 the first step up (better). */
    OptionalInt at(int episode, Sitting.Key sitting) {
        if (steps.isEmpty()) {
            return OptionalInt.empty();
        }
        Integer found = steps.get(episode).get(sitting);
        return found == null ? OptionalInt.empty() : OptionalInt.of(found);
    }

    /** Whether an instrument is a single rating of change with steps on both sides of unchanged, 0. */
    static boolean isRating(Instrument instrument) {
        return scaleOf(instrument).isPresent();
    }

    private static Optional<Scale> scaleOf(Instrument instrument) {
        List<Scale> scales =
                instrument.scales().stream().filter(Scale::reported).toList();
        boolean rating = instrument.facts().change().kind() == ChangeRule.Kind.NONE && scales.size() == 1;
        return scales.stream().findFirst().filter(s -> rating && codes(s).contains(0.0));
    }

    /** The codes of the only item of a scale that is that item itself; none of another scale. */
    private static List<Double> codes(Scale scale) {
        return scale.composition()
                .fromItems()
                .filter(made -> made.items().size() == 1)
                .map(made -> made.items().get(0).item().responses().fold(new ResponseSet.Kinds<List<Double>>() {
                    @Override
                    public List<Double> codes(ResponseSet.Codes set) {
                        return set.codes();
                    }

                    @Override
                    public List<Double> continuous(ResponseSet.Continuous set) {
                        return List.of();
                    }
                }))
                .orElse(List.of());
    }

    /** How many codes lie between unchanged and the rating, itself included; negative when worse. */
    private static int stepsOf(Scale scale, double rating) {
        int between = (int) codes(scale).stream()
                .filter(c -> rating > 0 ? c > 0 && c <= rating : c < 0 && c >= rating)
                .count();
        return (rating > 0) == (scale.better() == Direction.HIGHER) ? between : -between;
    }
}
