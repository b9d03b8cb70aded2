package lumbrical.exchange;

import java.util.LinkedHashMap;
import java.util.Map;
import java.util.Optional;
import java.util.stream.Stream;
import lumbrical.deidentify.SharedEpisode;
import lumbrical.deidentify.SharedForm;
import lumbrical.deidentify.Shipment;
import lumbrical.instrument.Instrument;
import lumbrical.instrument.Threshold;

/** The thresholds against which changes in a shipment were set. */
final class ThresholdsUsed {
    /** A threshold and the instrument it belongs to. */
    record Used(Instrument instrument, Threshold threshold) {}

    private final Map<String, Used> used = new LinkedHashMap<>();

    private ThresholdsUsed() {}

    static Iterable<Used> in(Shipment shipment) {
        ThresholdsUsed thresholds = new ThresholdsUsed();
        shipment.contents().forEach(thresholds::look);
        return thresholds.used.entrySet().stream()
                .sorted(Map.Entry.comparingByKey())
                .map(Map.Entry::getValue)
                .toList();
    }

    private void look(SharedEpisode episode) {
        for (SharedForm form : episode.forms()) {
            form.scores().stream()
                    .flatMap(score -> score.change().stream())
                    .flatMap(change -> Stream.of(change.mcid(), change.mdc(), change.pass()))
                    .flatMap(Optional::stream)
                    .forEach(t ->
                            used.putIfAbsent(form.instrument().id() + " " + t.id(), new Used(form.instrument(), t)));
        }
    }
}
