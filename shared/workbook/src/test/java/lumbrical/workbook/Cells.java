package lumbrical.workbook;

import lumbrical.number.Numbers;
import lumbrical.output.Value;

/** What a cell would show. */
final class Cells {
    private Cells() {}

    static String text(Value value) {
        if (value instanceof Value.Text text) {
            return text.text();
        } else if (value instanceof Value.Word word) {
            return word.text();
        } else if (value instanceof Value.Number number) {
            return Numbers.format(number.value());
        }
        return "";
    }
}
