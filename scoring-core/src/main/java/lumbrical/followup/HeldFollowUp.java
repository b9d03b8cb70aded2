package lumbrical.followup;

import java.time.LocalDate;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.function.Consumer;

/** The episodes of a result. */
final class HeldFollowUp implements FollowUpSource {
    private final FollowUpResult result;
    private final Map<Episode.Key, EpisodeFollowUp> episodes = new LinkedHashMap<>();

    HeldFollowUp(FollowUpResult result) {
        this.result = result;
        result.episodes().forEach(e -> episodes.put(e.episode().key(), e));
    }

    @Override
    public LocalDate asOf() {
        return result.asOf();
    }

    @Override
    public Schedule schedule() {
        return result.schedule();
    }

    @Override
    public List<Episode> listed() {
        return episodes.values().stream().map(EpisodeFollowUp::episode).toList();
    }

    @Override
    public EpisodeFollowUp followUp(Episode.Key episode) {
        return Optional.ofNullable(episodes.get(episode))
                .orElseThrow(() -> new IllegalArgumentException("This is none of the clinic's episodes"));
    }

    @Override
    public void eachForm(Consumer<PlacedForm> taker) {
        result.forms().forEach(taker);
    }
}
