package lumbrical.followup;

import java.time.LocalDate;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.function.Consumer;

/**
 * A clinic that is too large to be held whole: its forms are placed, and an episode is judged whenever it is asked for.
 */
public final class FollowUpOnDemand implements FollowUpSource {
    private final FollowUpResult summary;
    private final Map<Episode.Key, EpisodeBuilder> builders;
    private final FormPlaces places;

    FollowUpOnDemand(FollowUpResult summary, Map<Episode.Key, EpisodeBuilder> builders, FormPlaces places) {
        this.summary = summary;
        this.builders = builders;
        this.places = places;
    }

    /** The counts and problems, without episodes, forms and functional-task profiles. */
    public FollowUpResult summary() {
        return summary;
    }

    @Override
    public LocalDate asOf() {
        return summary.asOf();
    }

    @Override
    public Schedule schedule() {
        return summary.schedule();
    }

    @Override
    public List<Episode> listed() {
        return builders.values().stream().map(EpisodeBuilder::episode).toList();
    }

    @Override
    public EpisodeFollowUp followUp(Episode.Key episode) {
        return Optional.ofNullable(builders.get(episode))
                .orElseThrow(() -> new IllegalArgumentException("This is none of the clinic's episodes"))
                .judge();
    }

    @Override
    public void eachForm(Consumer<PlacedForm> taker) {
        places.each(EpisodeBuilder::listed, taker);
    }
}
