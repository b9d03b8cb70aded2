package lumbrical.followup;

import java.util.Collections;
import java.util.EnumMap;
import java.util.HashMap;
import java.util.HashSet;
import java.util.Map;
import java.util.Set;
import java.util.TreeMap;
import lumbrical.instrument.Side;
import lumbrical.scoring.Reason;
import lumbrical.sitting.ScoredForm;
import lumbrical.sitting.Sitting;

/**
 * How much a clinic's files hold.
 *
 * @param patients patients with at least one episode
 * @param episodes episodes
 * @param bilateral patients with episodes on both sides: their episodes are not independent
 * @param sittings sittings with at least one answer
 * @param notScored score rows without a score, by reason; of forms with at least one answer, since a blank one did not come in
 */
public record ClinicCounts(int patients, int episodes, int bilateral, int sittings, Map<Reason, Integer> notScored) {
    /** Copies the map. */
    public ClinicCounts {
        notScored = Collections.unmodifiableMap(new TreeMap<>(notScored));
    }

    /** The counts of a clinic. */
    public static ClinicCounts of(FollowUpResult clinic) {
        Map<Reason, Integer> notScored = new EnumMap<>(Reason.class);
        Set<Sitting.Key> sittings = new HashSet<>();
        for (PlacedForm placed : clinic.forms()) {
            ScoredForm form = placed.form();
            if (!form.responses().blank()) {
                form.results().forEach(r -> r.reason().ifPresent(reason -> notScored.merge(reason, 1, Integer::sum)));
                sittings.add(form.sitting().key());
            }
        }
        Map<String, Set<Side>> sides = new HashMap<>();
        clinic.episodes().stream().map(EpisodeFollowUp::episode).forEach(e -> sides.computeIfAbsent(
                        e.patient(), p -> new HashSet<>(2))
                .add(e.treatedSide()));
        return new ClinicCounts(
                sides.size(),
                clinic.episodes().size(),
                (int) sides.values().stream().filter(s -> s.size() > 1).count(),
                sittings.size(),
                notScored);
    }
}
