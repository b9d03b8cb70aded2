package lumbrical.intake;

import java.nio.charset.Charset;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import java.util.stream.Collectors;
import lumbrical.catalogue.Catalogue;
import lumbrical.condition.ConditionVocabulary;
import lumbrical.tabular.Input;
import lumbrical.tabular.SimpleTable;
import lumbrical.tabular.UnreadableInputException;
import lumbrical.threshold.ThresholdChoice;

/** Reads a choice of thresholds: {@code instrument,scale,condition,threshold_id}. */
public final class ThresholdSelectionReader {
    private ThresholdSelectionReader() {}

    /** As {@link #read(Input, Optional, Catalogue, ConditionVocabulary)}, in Unicode. */
    public static ThresholdChoice read(Input input, Catalogue catalogue, ConditionVocabulary vocabulary) {
        return read(input, Optional.empty(), catalogue, vocabulary);
    }

    /**
     * The choice.
     *
     * @param encoding encoding of a CSV file that is not Unicode
     * @param vocabulary the conditions that its rows may name
     * @throws UnreadableInputException if the file cannot be read or any row has a fault: a choice is used whole or not at all
     */
    public static ThresholdChoice read(
            Input input, Optional<Charset> encoding, Catalogue catalogue, ConditionVocabulary vocabulary) {
        SimpleTable table =
                SimpleTable.readSettings(input, encoding, List.of("instrument", "scale", "condition", "threshold_id"));
        List<ThresholdChoice.Row> rows = table.rows().stream()
                .map(row -> new ThresholdChoice.Row(
                        row.place().toString(),
                        row.get("instrument").toLowerCase(Locale.ROOT),
                        row.get("scale").toLowerCase(Locale.ROOT),
                        row.get("condition"),
                        row.get("threshold_id")))
                .toList();
        ThresholdChoice.Checked checked = ThresholdChoice.of(rows, catalogue::find, vocabulary);
        if (!checked.faults().isEmpty()) {
            throw faults(input, checked.faults());
        }
        return checked.choice();
    }

    /** That a choice has these faults. */
    public static UnreadableInputException faults(Input input, List<ThresholdChoice.Fault> faults) {
        return new UnreadableInputException(
                input.place(),
                faults.size() + " fault(s) in the choice of thresholds; none is used.\n  "
                        + faults.stream().map(ThresholdChoice.Fault::inWords).collect(Collectors.joining("\n  ")));
    }
}
