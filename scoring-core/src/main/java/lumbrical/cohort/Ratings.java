package lumbrical.cohort;

import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import lumbrical.followup.AssignedForm;
import lumbrical.followup.AssignedScore;
import lumbrical.followup.EpisodeFollowUp;
import lumbrical.instrument.ChangeRule;
import lumbrical.instrument.Direction;
import lumbrical.instrument.Instrument;
import lumbrical.instrument.InstrumentId;
import lumbrical.instrument.ResponseSet;
import lumbrical.instrument.Scale;
import lumbrical.sitting.Sitting;

/** What patients say of their change (the anchor), in steps from unchanged: 0 unchanged, 1 the first step up (better). */
final class Ratings {
    private Ratings() {}

    /** The ratings of an episode by {@code anchor}, by sitting. */
    static Map<Sitting.Key, Integer> of(InstrumentId anchor, EpisodeFollowUp episode) {
        Map<Sitting.Key, Integer> steps = new HashMap<>();
        for (AssignedForm form : episode.forms()) {
            if (form.form().instrument().id().equals(anchor) && form.leftOut().isEmpty()) {
                scaleOf(form.form().instrument()).ifPresent(scale -> form.scoresOfTreatedHand()
                        .filter(s -> s.scale().id().equals(scale.id()))
                        .forEach(s -> put(s, scale, steps)));
            }
        }
        return steps;
    }

    private static void put(AssignedScore score, Scale scale, Map<Sitting.Key, Integer> own) {
        score.result().scored().ifPresent(s -> own.put(score.form().sitting().key(), stepsOf(scale, s.value())));
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
