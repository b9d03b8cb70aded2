package lumbrical.intake;

import java.util.stream.Collectors;
import lumbrical.instrument.ResponseSet;
import lumbrical.number.Numbers;

/** The responses that an item allows, as a message says them. */
public final class AllowedResponses {
    /** Longer lists of codes are told by their ends. */
    private static final int MOST_LISTED = 15;

    private AllowedResponses() {}

    /** A sentence such as {@code Allowed responses are 1, 2, 3, or blank.} */
    public static String inWords(ResponseSet responses) {
        return responses.fold(new ResponseSet.Kinds<>() {
            @Override
            public String codes(ResponseSet.Codes set) {
                if (set.codes().size() > MOST_LISTED && everyWholeNumber(set)) {
                    return "Allowed responses are whole numbers from " + Numbers.format(set.low()) + " to "
                            + Numbers.format(set.high()) + ", or blank.";
                }
                return "Allowed responses are "
                        + set.codes().stream().map(Numbers::format).collect(Collectors.joining(", "))
                        + ", or blank.";
            }

            @Override
            public String continuous(ResponseSet.Continuous set) {
                return "Allowed is a number from " + Numbers.format(set.low()) + " to " + Numbers.format(set.high())
                        + ", or blank.";
            }
        });
    }

    private static boolean everyWholeNumber(ResponseSet.Codes set) {
        return set.codes().stream().allMatch(code -> Double.compare(code, Math.rint(code)) == 0)
                && set.codes().size() == Math.round(set.high() - set.low()) + 1;
    }
}
