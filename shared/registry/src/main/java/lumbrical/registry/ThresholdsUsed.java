package lumbrical.registry;

import java.util.LinkedHashMap;
import java.util.Map;
import java.util.Optional;
import java.util.stream.Stream;
import lumbrical.deidentify.DeidentifiedDataset;
import lumbrical.deidentify.DeidentifiedEpisode;
import lumbrical.deidentify.DeidentifiedForm;
import lumbrical.instrument.Instrument;
import lumbrical.instrument.Threshold;

/** The thresholds against which changes in a shipment were set. */
final class ThresholdsUsed {
    /** A threshold and the instrument it belongs to. */
    record Used(Instrument instrument, Threshold threshold) {}

    private final Map<String, Used> used = new LinkedHashMap<>();

    private ThresholdsUsed() {}

    static Iterable<Used> in(DeidentifiedDataset shipment) {
        ThresholdsUsed thresholds = new ThresholdsUsed();
        shipment.contents().forEach(thresholds::look);
        return thresholds.used.entrySet().stream()
                .sorted(Map.Entry.comparingByKey())
                .map(Map.Entry::getValue)
                .toList();
    }

    private void look(DeidentifiedEpisode episode) {
        for (DeidentifiedForm form : episode.forms()) {
            form.scores().stream()
                    .flatMap(score -> score.change().stream())
                    .flatMap(change -> Stream.of(change.mcid(), change.mdc(), change.pass()))
                    .flatMap(Optional::stream)
                    .forEach(t ->
                            used.putIfAbsent(form.instrument().id() + " " + t.id(), new Used(form.instrument(), t)));
        }
    }
}
