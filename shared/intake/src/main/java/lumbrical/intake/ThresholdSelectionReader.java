package lumbrical.intake;

import java.util.List;
import java.util.Locale;
import java.util.Optional;
import lumbrical.catalogue.Catalogue;
import lumbrical.tabular.Input;
import lumbrical.tabular.SimpleTable;
import lumbrical.tabular.UnreadableInputException;
import lumbrical.threshold.ThresholdChoice;

/** Reads a choice of thresholds: {@code instrument,scale,condition,threshold_id}. */
public final class ThresholdSelectionReader {
    private ThresholdSelectionReader() {}

    /** @throws UnreadableInputException if the file cannot be read or any row has a fault: a choice is used whole or not at all */
    public static ThresholdChoice read(Input input, Catalogue catalogue) {
        SimpleTable table =
                SimpleTable.read(input, Optional.empty(), List.of("instrument", "scale", "condition", "threshold_id"));
        List<ThresholdChoice.Row> rows = table.rows().stream()
                .map(row -> new ThresholdChoice.Row(
                        row.place().toString(),
                        row.get("instrument").toLowerCase(Locale.ROOT),
                        row.get("scale").toLowerCase(Locale.ROOT),
                        row.get("condition"),
                        row.get("threshold_id")))
                .toList();
        ThresholdChoice.Checked checked = ThresholdChoice.of(rows, catalogue::find);
        if (!checked.faults().isEmpty()) {
            throw new UnreadableInputException(
                    input.place(),
                    checked.faults().size() + " fault(s) in the choice of thresholds; none is used."
                            + "\n  "
                            + String.join("\n  ", checked.faults()));
        }
        return checked.choice();
    }
}
