package lumbrical.report.html;

import java.util.Locale;
import lumbrical.instrument.Instrument;
import lumbrical.instrument.Scale;

/** How scales are called on a page. */
public final class ScaleNames {
    private ScaleNames() {}

    /** The questionnaire, and the scale where the questionnaire's name does not say it. */
    public static String full(Instrument instrument, Scale scale) {
        boolean says = !scale.optional()
                && instrument.scales().stream()
                                .filter(s -> s.reported() && !s.optional())
                                .count()
                        == 1;
        return instrument.facts().title() + (says ? "" : ", " + alone(scale));
    }

    /** The scale alone. */
    public static String alone(Scale scale) {
        return lowerFirst(scale.title());
    }

    private static String lowerFirst(String text) {
        boolean name =
                text.length() > 1 && Character.isUpperCase(text.charAt(0)) && !Character.isLowerCase(text.charAt(1));
        return text.isEmpty() || name ? text : text.substring(0, 1).toLowerCase(Locale.ROOT) + text.substring(1);
    }
}
