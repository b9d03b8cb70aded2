package lumbrical.intake;

import java.nio.charset.Charset;
import java.util.List;
import java.util.Optional;
import java.util.stream.Collectors;
import lumbrical.condition.ConditionMatch;
import lumbrical.condition.ConditionVocabulary;
import lumbrical.tabular.Input;
import lumbrical.tabular.SimpleTable;
import lumbrical.tabular.UnreadableInputException;

/** Reads a clinic's own names of conditions: {@code text,condition}. */
public final class ConditionMapReader {
    private ConditionMapReader() {}

    /** As {@link #read(Input, Optional, ConditionVocabulary)}, in Unicode. */
    public static ConditionVocabulary read(Input input, ConditionVocabulary vocabulary) {
        return read(input, Optional.empty(), vocabulary);
    }

    /**
     * The vocabulary with the clinic's own names.
     *
     * @param encoding encoding of a CSV file that is not Unicode
     * @throws UnreadableInputException if the file cannot be read or any row has a fault: a map is used whole or not at all
     */
    public static ConditionVocabulary read(Input input, Optional<Charset> encoding, ConditionVocabulary vocabulary) {
        SimpleTable table = SimpleTable.readSettings(input, encoding, List.of("text", "condition"));
        ConditionVocabulary.Checked checked = vocabulary.withMap(table.rows().stream()
                .map(row ->
                        new ConditionVocabulary.OwnName(row.place().toString(), row.get("text"), row.get("condition")))
                .toList());
        if (!checked.faults().isEmpty()) {
            throw new UnreadableInputException(
                    input.place(),
                    checked.faults().size() + " fault(s) in the map of conditions; none is used.\n  "
                            + checked.faults().stream()
                                    .map(ConditionVocabulary.Fault::inWords)
                                    .collect(Collectors.joining("\n  ")));
        }
        return checked.vocabulary();
    }

    /** What a text that matches no condition may mean: a sentence with a blank before it, or nothing. */
    public static String hint(ConditionMatch match) {
        return match.fold(
                known -> "",
                unknown -> unknown.didYouMean()
                        .map(name -> " Did you mean '" + name + "'?")
                        .orElse(""),
                several -> " It fits more than one: " + ConditionVocabulary.named(several) + ".");
    }
}
