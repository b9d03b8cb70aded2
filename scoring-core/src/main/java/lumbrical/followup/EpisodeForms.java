package lumbrical.followup;

import java.util.LinkedHashSet;
import java.util.List;
import java.util.Set;
import lumbrical.instrument.InstrumentId;
import lumbrical.sitting.Sitting;

/** The forms that the episode of a sitting asks for by name. */
public final class EpisodeForms {
    private final EpisodeFinder finder;
    private final boolean none;

    /** The forms that these episodes name; {@code schedule} helps to tell several episodes of one side apart. */
    public EpisodeForms(List<Episode> episodes, Schedule schedule) {
        this.finder = new EpisodeFinder(episodes, schedule);
        this.none = episodes.stream().allMatch(e -> e.forms().isEmpty());
    }

    /** Whether no episode names a form. */
    public boolean askForNone() {
        return none;
    }

    /** The forms named by the episodes to which a sitting belongs; none if it belongs to none. */
    public Set<InstrumentId> of(Sitting sitting) {
        if (none) {
            return Set.of();
        }
        EpisodeFinder.Found found = finder.find(sitting);
        Set<InstrumentId> forms = new LinkedHashSet<>();
        if (found.problem().isEmpty()) {
            found.episodes().forEach(e -> forms.addAll(e.forms()));
        }
        return forms;
    }
}
