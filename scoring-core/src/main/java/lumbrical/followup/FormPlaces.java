package lumbrical.followup;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.function.BiFunction;
import java.util.function.Consumer;
import lumbrical.problem.ProblemCode;
import lumbrical.sitting.ScoredForm;

/**
 * What became of each form: nothing, a place outside all episodes, or one in each of some episodes. Kept as numbers, for a clinic has very
 * many forms, of which nearly all lie in one episode.
 */
final class FormPlaces {
    private static final int NOWHERE = -1;
    private static final int OUTSIDE = -2;
    private static final ProblemCode[] REASONS = ProblemCode.values();

    private final List<ScoredForm> forms;
    private final List<EpisodeBuilder> episodes;
    /** By form: the number of its episode, or one of the two above. */
    private final int[] episode;
    /** By form: its position in the episode; of one outside the reason. */
    private final int[] position;
    /** By form: further places, of a sitting of both sides. */
    private final Map<Integer, List<Further>> further = new HashMap<>();

    private record Further(int episode, int position) {}

    FormPlaces(List<ScoredForm> forms, List<EpisodeBuilder> episodes) {
        this.forms = forms;
        this.episodes = episodes;
        this.episode = new int[forms.size()];
        this.position = new int[forms.size()];
        Arrays.fill(episode, NOWHERE);
    }

    /** A form that belongs to no episode. */
    void outside(int form, ProblemCode why) {
        episode[form] = OUTSIDE;
        position[form] = why.ordinal();
    }

    /** A form that stands in an episode, and may stand in others. */
    void inside(int form, int ofEpisode, int at) {
        if (episode[form] == NOWHERE) {
            episode[form] = ofEpisode;
            position[form] = at;
        } else {
            further.computeIfAbsent(form, f -> new ArrayList<>(1)).add(new Further(ofEpisode, at));
        }
    }

    /** Hands on each place in the order of the forms, made of an episode and the position in it. */
    void each(BiFunction<EpisodeBuilder, Integer, AssignedForm> inside, Consumer<PlacedForm> taker) {
        for (int i = 0; i < episode.length; i++) {
            if (episode[i] == OUTSIDE) {
                taker.accept(new UnassignedForm(forms.get(i), REASONS[position[i]]));
            } else if (episode[i] != NOWHERE) {
                taker.accept(inside.apply(episodes.get(episode[i]), position[i]));
                for (Further place : further.getOrDefault(i, List.of())) {
                    taker.accept(inside.apply(episodes.get(place.episode()), place.position()));
                }
            }
        }
    }
}
