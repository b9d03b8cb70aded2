package lumbrical.catalogue;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.IOException;
import java.io.InputStream;
import java.nio.charset.StandardCharsets;
import java.util.ArrayList;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalDouble;
import lumbrical.instrument.Instrument;
import lumbrical.instrument.Range;
import lumbrical.instrument.Threshold;
import org.junit.jupiter.api.Test;

/** A threshold changes what a surgeon is told, so none changes unnoticed. */
class ShippedThresholdsTest {
    private static final Catalogue CATALOGUE = Catalogue.builtIn();

    /** The table was proof-read against the sources; values added or changed are proof-read there too. */
    @Test
    void everyThresholdIsTheOneThatWasProofRead() throws IOException {
        List<String> shipped = new ArrayList<>();
        for (Instrument instrument : CATALOGUE.all()) {
            instrument.thresholds().forEach(t -> shipped.add(row(instrument, t)));
        }
        assertTrue(shipped.size() > 250, "only " + shipped.size() + " thresholds: was the catalogue read?");
        assertEquals(String.join("\n", proofRead()), String.join("\n", shipped));
    }

    private static List<String> proofRead() throws IOException {
        try (InputStream in = ShippedThresholdsTest.class.getResourceAsStream("thresholds.csv")) {
            return new String(in.readAllBytes(), StandardCharsets.UTF_8)
                    .lines()
                    .skip(2)
                    .toList();
        }
    }

    private static String row(Instrument instrument, Threshold t) {
        Optional<Range> ends =
                t.ends().or(() -> t.interval().map(interval -> new Range(interval.low(), interval.high())));
        return String.join(
                ",",
                instrument.id().value(),
                t.id(),
                t.scale().value(),
                t.kind().code(),
                number(t.value()),
                number(ends.map(r -> OptionalDouble.of(r.low())).orElse(OptionalDouble.empty())),
                number(ends.map(r -> OptionalDouble.of(r.high())).orElse(OptionalDouble.empty())),
                t.level().isPresent() ? String.valueOf(t.level().getAsInt()) : "",
                t.n().isPresent() ? String.valueOf(t.n().getAsInt()) : "",
                t.study(),
                t.provenance().standing().code(),
                t.selectable() ? "yes" : "no");
    }

    private static String number(OptionalDouble value) {
        if (value.isEmpty()) {
            return "";
        }
        String text = Double.toString(value.getAsDouble());
        return text.endsWith(".0") ? text.substring(0, text.length() - 2) : text;
    }

    /** Else a study with several groups would count several times among the published MCIDs. */
    @Test
    void theMcidsOfOneSourceAreOneStudy() {
        int checked = 0;
        for (Instrument instrument : CATALOGUE.all()) {
            Map<String, String> studyOf = new HashMap<>();
            for (Threshold t : instrument.thresholds()) {
                if (t.kind() == Threshold.Kind.MCID) {
                    String before = studyOf.putIfAbsent(t.provenance().source(), t.study());
                    assertEquals(before == null ? t.study() : before, t.study(), () -> instrument + " " + t.id());
                    checked++;
                }
            }
        }
        assertTrue(checked > 60, checked + " MCIDs");
    }
}
