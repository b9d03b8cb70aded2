package lumbrical.cdisc;

import java.util.Locale;
import java.util.Optional;
import lumbrical.instrument.Column;
import lumbrical.instrument.Instrument;
import lumbrical.instrument.Scale;
import lumbrical.instrument.Side;

/**
 * CdiscNames within the limits of SDTM and ADaM: codes of at most 8 characters (letters, digits, underscore, no leading digit), names of at
 * most 40, texts of at most 200.
 */
final class CdiscNames {
    static final int LONGEST_NAME = 40;
    static final int LONGEST_TEXT = 200;

    private CdiscNames() {}

    /**
     * The name itself.
     *
     * @throws IllegalArgumentException if it is no name of at most 8 characters
     */
    static String requireName(String name) {
        if (!name.matches("[A-Z_][A-Z0-9_]{0,7}")) {
            throw new IllegalArgumentException(name
                    + ": a code has at most 8 capital letters, digits or underscores and does not start with a digit");
        }
        return name;
    }

    /** Test code of an item: the instrument's short code and the item's number among its columns, two digits or three. */
    static String itemCode(Instrument instrument, Column column) {
        return requireName(instrument.facts().shortCode() + String.format(Locale.ROOT, "%02d", column.index() + 1));
    }

    /** Parameter code of a scale, of one hand if it is asked of each: short code, T, number, and R, L or B. */
    static String scaleCode(Instrument instrument, Scale scale, Optional<Side> hand) {
        int number = instrument.scales().indexOf(scale) + 1;
        return requireName(instrument.facts().shortCode() + "T" + number
                + hand.map(h -> h.code().substring(0, 1).toUpperCase(Locale.ROOT))
                        .orElse(""));
    }

    /** Name of an item's test: its code, so that names differ, and the topic. */
    static String itemName(Instrument instrument, Column column) {
        return limited(
                itemCode(instrument, column) + "-" + column.item().topic()
                        + column.hand().map(h -> ", " + h.code()).orElse(""),
                LONGEST_NAME);
    }

    /** Name of a scale's test. */
    static String scaleName(Instrument instrument, Scale scale, Optional<Side> hand) {
        return limited(
                scaleCode(instrument, scale, hand) + "-" + scale.title()
                        + hand.map(h -> ", " + h.code()).orElse(""),
                LONGEST_NAME);
    }

    /** Name of an analysis parameter: the instrument, the scale, and the hand. */
    static String parameterName(Instrument instrument, Scale scale, Optional<Side> hand) {
        String ofScale = ": " + scale.title() + hand.map(h -> ", " + h.code()).orElse("");
        return limited(instrument.facts().title(), LONGEST_TEXT - ofScale.length()) + ofScale;
    }

    /** The text, cut at {@code longest} characters if it is longer. */
    static String limited(String text, int longest) {
        return text.length() <= longest ? text : text.substring(0, longest);
    }
}
