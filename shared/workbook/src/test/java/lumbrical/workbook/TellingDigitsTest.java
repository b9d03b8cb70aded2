package lumbrical.workbook;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.util.List;
import lumbrical.change.Change;
import lumbrical.change.ReachesMcid;
import org.junit.jupiter.api.Test;

/** Cells of two decimals hide on which side of a threshold an improvement lies: the invented demo clinic. */
class TellingDigitsTest {
    private static final List<Change> CHANGES = Written.demo()
            .clinic()
            .changes()
            .map(c -> c.change())
            .filter(c -> c.improvement().isPresent())
            .toList();

    @Test
    void improvementAndThresholdThatLookAlikeAreToldApart() {
        List<Change> alike =
                CHANGES.stream().filter(TellingDigitsTest::looksAlike).toList();
        assertTrue(alike.size() >= 3, "only " + alike.size());
        for (Change change : alike) {
            // the mean of eight items changed by nine eighths, against the published 1.13
            String sign = change.improvement().orElseThrow() < 0 ? "-" : "";
            assertEquals(ReachesMcid.NO, change.reachesMcid().orElseThrow());
            assertEquals("improvement " + sign + "1.125, MCID 1.13, MDC 0.79", Cells.text(TellingDigits.of(change)));
        }
    }

    @Test
    void elsewhereTheCellsSayEnough() {
        List<Change> told = CHANGES.stream().filter(c -> !looksAlike(c)).toList();
        assertTrue(told.size() > 300, "only " + told.size());
        told.forEach(c -> assertEquals("", Cells.text(TellingDigits.of(c))));
    }

    private static boolean looksAlike(Change change) {
        String shown = String.format(
                java.util.Locale.ROOT, "%.2f", Math.abs(change.improvement().orElseThrow()));
        return List.of(change.thresholds().mcid(), change.thresholds().mdc()).stream()
                .flatMap(t -> t.stream())
                .flatMap(t -> t.value().stream().boxed())
                .anyMatch(v -> String.format(java.util.Locale.ROOT, "%.2f", v).equals(shown)
                        && Math.abs(v - Math.abs(change.improvement().orElseThrow())) > 1e-9);
    }
}
