package lumbrical.workbook;

import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.stream.Collectors;
import lumbrical.instrument.Instrument;
import lumbrical.instrument.ResponseSet;
import lumbrical.instrument.Side;
import lumbrical.number.Numbers;
import lumbrical.output.Value;

/**
 * The sheet of codes that the drop-downs of an entry form take their lists from. Codes stand in cells because a list typed into
 * a check would read {@code 0.5} as a date in countries with a decimal comma.
 */
final class EntryCodes {
    private static final String NAME = "Codes";
    /** A longer list of codes is said by its ends. */
    private static final int MOST_LISTED = 15;

    private final Map<Key, String> ranges = new HashMap<>();
    private String sides = "";

    private record Key(Instrument instrument, String set) {}

    private EntryCodes() {}

    static EntryCodes write(StreamingWorkbook book, List<Instrument> instruments) {
        EntryCodes codes = new EntryCodes();
        SmallSheet sheet = book.smallSheet(NAME);
        int[] widths = {16, 20, 10, 40};
        String[] headings = {"instrument", "responses", "code", "meaning, where the definition gives one"};
        for (int i = 0; i < headings.length; i++) {
            sheet.sheet().setColumnWidth(i, widths[i] * 256);
            sheet.text(0, i, i == 2 ? book.styles().headerRight : book.styles().header, headings[i]);
        }
        StreamingWorkbook.freeze(sheet.sheet(), 0, 0);
        book.lock(sheet.sheet());
        int row = 1;
        for (Side side : List.of(Side.RIGHT, Side.LEFT, Side.BOTH)) {
            sheet.value(row, 1, Value.word("side"));
            sheet.value(row, 2, Value.word(side.code()));
            row++;
        }
        codes.sides = range(1, row - 1);
        for (Instrument instrument : instruments) {
            for (ResponseSet set : instrument.facts().responseSets()) {
                if (set instanceof ResponseSet.Codes listed) {
                    int first = row;
                    for (double code : listed.codes()) {
                        sheet.value(row, 0, Value.word(instrument.id().value()));
                        sheet.value(row, 1, Value.word(set.name()));
                        sheet.value(row, 2, Value.number(code));
                        sheet.value(
                                row,
                                3,
                                Value.word(Optional.ofNullable(set.labels().get(code))));
                        row++;
                    }
                    codes.ranges.put(new Key(instrument, set.name()), range(first, row - 1));
                }
            }
        }
        return codes;
    }

    private static String range(int first, int last) {
        return NAME + "!$C$" + (first + 1) + ":$C$" + (last + 1);
    }

    String sides() {
        return sides;
    }

    /** Where the codes of a response set stand; empty for a range of numbers. */
    Optional<String> of(Instrument instrument, ResponseSet set) {
        return Optional.ofNullable(ranges.get(new Key(instrument, set.name())));
    }

    /** What is allowed, in words. */
    static String inWords(ResponseSet set) {
        if (set instanceof ResponseSet.Codes listed) {
            List<Double> shown = steps(listed.codes()) ? List.of(set.low(), set.high()) : listed.codes();
            return (shown.size() < listed.codes().size() ? "Whole numbers from " : "Codes: ")
                    + shown.stream()
                            .map(code -> Numbers.format(code)
                                    + Optional.ofNullable(set.labels().get(code))
                                            .map(l -> " " + l)
                                            .orElse(""))
                            .collect(Collectors.joining(
                                    shown.size() < listed.codes().size() ? " to " : ", "));
        }
        return "A number from " + EntryForm.range(set.low(), set.high()) + ", decimals allowed";
    }

    /** Whether the codes are many and follow each other by one. */
    private static boolean steps(List<Double> codes) {
        return codes.size() > MOST_LISTED && codes.get(codes.size() - 1) - codes.get(0) == codes.size() - 1;
    }
}
