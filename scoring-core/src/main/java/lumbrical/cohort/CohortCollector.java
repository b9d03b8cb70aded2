package lumbrical.cohort;

import java.time.LocalDate;
import java.util.List;
import java.util.Optional;
import java.util.function.Function;
import lumbrical.followup.Episode;
import lumbrical.followup.EpisodeFollowUp;
import lumbrical.followup.EpisodeSink;
import lumbrical.followup.Schedule;
import lumbrical.instrument.Instrument;
import lumbrical.threshold.ThresholdChoice;

/**
 * Takes the episodes of a clinic one at a time and keeps of each the numbers that its group results need, some 30 bytes a score and the
 * responses. A clinic that is too large to be held whole is analysed so.
 */
public final class CohortCollector implements EpisodeSink {
    private final CohortRequest request;
    private final Function<String, Optional<Instrument>> catalogue;
    private Optional<ClinicData> gathered = Optional.empty();
    private boolean closed;

    /**
     * A collector that has seen nothing yet.
     *
     * @param request what is asked
     * @param catalogue finds an instrument by its id
     */
    public CohortCollector(CohortRequest request, Function<String, Optional<Instrument>> catalogue) {
        this.request = request;
        this.catalogue = catalogue;
    }

    @Override
    public void begins(List<Episode> episodes, Schedule schedule, LocalDate asOf, ThresholdChoice choice) {
        gathered = Optional.of(new ClinicData(episodes, schedule, asOf, choice, request, catalogue));
        closed = false;
    }

    /** @throws IllegalStateException before {@link #begins}, or after the results were asked for */
    @Override
    public void accept(EpisodeFollowUp episode) {
        open().add(episode);
    }

    /** The next episodes, which somebody holds. */
    void acceptAll(List<EpisodeFollowUp> episodes) {
        open().addAll(episodes);
    }

    private ClinicData open() {
        if (closed) {
            throw new IllegalStateException("The results were asked for before the last episode came");
        }
        return data();
    }

    private ClinicData data() {
        return gathered.orElseThrow(() -> new IllegalStateException("No clinic was begun"));
    }

    private ClinicData closed() {
        if (!closed) {
            data().close();
            closed = true;
        }
        return data();
    }

    /**
     * What of the request cannot be met; empty if all of it can.
     *
     * @throws IllegalStateException before {@link #begins}
     */
    public List<CohortFault> faults() {
        return CohortAnalysis.faults(closed());
    }

    /**
     * The results. The order of the episodes makes no difference, nor does the number of processors.
     *
     * @throws IllegalArgumentException if the request has {@link #faults}
     * @throws IllegalStateException before {@link #begins}
     */
    public CohortResult result() {
        return CohortAnalysis.of(closed());
    }
}
