package lumbrical.workbook;

import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import lumbrical.change.Change;
import lumbrical.instrument.Threshold;
import lumbrical.number.Figures;
import lumbrical.output.Value;

/** The digits that tell an improvement from a threshold where both look the same in their cells. */
final class TellingDigits {
    static final String COLUMN = "more_digits";
    static final String MEANING =
            "Where the improvement and a threshold look the same in their cells and yet differ: both with the digits that tell them apart";

    /** As cells of numbers show them. */
    private static final Figures SHOWN = new Figures(2);

    private TellingDigits() {}

    /** Blank where the cells tell enough. */
    static Value of(Change change) {
        Figures needed = change.figures(SHOWN);
        if (change.improvement().isEmpty() || needed.equals(SHOWN)) {
            return Value.BLANK;
        }
        List<String> parts = new ArrayList<>();
        parts.add("improvement " + needed.plain(change.improvement().getAsDouble()));
        for (Threshold threshold : used(change)) {
            threshold
                    .value()
                    .ifPresent(
                            v -> parts.add(threshold.kind().code().toUpperCase(Locale.ROOT) + " " + needed.plain(v)));
        }
        return Value.word(String.join(", ", parts));
    }

    private static List<Threshold> used(Change change) {
        return List.of(change.thresholds().mcid(), change.thresholds().mdc()).stream()
                .flatMap(Optional::stream)
                .toList();
    }
}
