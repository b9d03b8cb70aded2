package lumbrical.instrument;

import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import lumbrical.number.Numbers;

/** A threshold in words, as lists and pages print it. */
public final class ThresholdWords {
    private ThresholdWords() {}

    /** The number with its unit, or the span that the source prints. */
    public static String value(Threshold t) {
        if (t.value().isPresent()) {
            return Numbers.format(t.value().getAsDouble()) + " " + t.metric().code();
        }
        return t.ends()
                .map(e -> Numbers.format(e.low()) + " to " + Numbers.format(e.high()) + " "
                        + t.metric().code())
                .orElse("no value");
    }

    /** The confidence interval or the SD beside the value; empty where there is neither. */
    public static String interval(Threshold t) {
        Optional<String> ci = t.interval()
                .map(i -> i.percent() + " % " + Numbers.format(i.low()) + " to " + Numbers.format(i.high()));
        return ci.orElse("") + (t.sd().isPresent() ? "SD " + Numbers.format(t.sd().getAsDouble()) : "");
    }

    /** Whether it is a default, for whom, can be chosen, or why it is never used. */
    public static String use(Instrument instrument, Threshold t) {
        if (!t.selectable()) {
            return "never used: " + t.whyNotSelectable().orElse("");
        }
        List<String> uses = new ArrayList<>();
        for (Scale scale : instrument.scales()) {
            scale.defaults().filter(d -> names(d, t)).ifPresent(d -> uses.add("default"));
            scale.conditionDefaults().stream()
                    .filter(d -> names(d.defaults(), t))
                    .forEach(d -> uses.add("default for " + d.condition()));
        }
        return uses.isEmpty() ? "can be chosen" : String.join(", ", uses);
    }

    private static boolean names(Scale.Defaults defaults, Threshold t) {
        return List.of(defaults.mcid(), defaults.mdc(), defaults.pass()).contains(Optional.of(t.id()));
    }
}
