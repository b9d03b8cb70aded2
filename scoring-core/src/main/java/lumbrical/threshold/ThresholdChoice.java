package lumbrical.threshold;

import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import java.util.function.Function;
import lumbrical.instrument.Instrument;
import lumbrical.instrument.Scale;
import lumbrical.instrument.ScaleId;
import lumbrical.instrument.Threshold;

/** The thresholds used: those the user chose, else the definition's defaults. Immutable. */
public final class ThresholdChoice {
    /** The definitions' defaults. */
    public static final ThresholdChoice DEFAULTS = new ThresholdChoice(List.of());

    private final List<Chosen> chosen;

    private record Chosen(String instrument, ScaleId scale, String condition, Threshold threshold) {}

    /**
     * A row of the user's choice.
     *
     * @param where file and row, for messages
     * @param instrument instrument id
     * @param scale scale id
     * @param condition condition of the episodes it is for; blank = all
     * @param threshold threshold id
     */
    public record Row(String where, String instrument, String scale, String condition, String threshold) {}

    /**
     * A choice, or what is wrong with it.
     *
     * @param choice the choice; the defaults if there is a fault
     * @param faults one line each
     */
    public record Checked(ThresholdChoice choice, List<String> faults) {
        /** Copies the list. */
        public Checked {
            faults = List.copyOf(faults);
        }
    }

    private ThresholdChoice(List<Chosen> chosen) {
        this.chosen = List.copyOf(chosen);
    }

    /** Checks a user's rows against the definitions. */
    public static Checked of(List<Row> rows, Function<String, Optional<Instrument>> catalogue) {
        List<Chosen> chosen = new ArrayList<>();
        List<String> faults = new ArrayList<>();
        for (Row row : rows) {
            check(row, catalogue, chosen).ifPresentOrElse(fault -> faults.add(row.where() + ": " + fault), () -> {});
        }
        return faults.isEmpty() ? new Checked(new ThresholdChoice(chosen), List.of()) : new Checked(DEFAULTS, faults);
    }

    private static Optional<String> check(
            Row row, Function<String, Optional<Instrument>> catalogue, List<Chosen> chosen) {
        Optional<Instrument> instrument = catalogue.apply(row.instrument());
        if (instrument.isEmpty()) {
            return Optional.of("'" + row.instrument() + "' is no instrument. 'instruments' lists them.");
        }
        Optional<Scale> scale = instrument.get().scales().stream()
                .filter(s -> s.id().value().equals(row.scale()))
                .findFirst();
        if (scale.isEmpty()) {
            return Optional.of("'" + row.scale() + "' is no scale of " + row.instrument() + ".");
        }
        Optional<Threshold> threshold = instrument.get().threshold(row.threshold());
        if (threshold.isEmpty() || !threshold.get().scale().equals(scale.get().id())) {
            return Optional.of("'" + row.threshold() + "' is no threshold of " + row.instrument() + " " + row.scale()
                    + ". 'instruments " + row.instrument() + " --list-thresholds' lists them.");
        }
        return checkUsable(row, scale.get(), threshold.get(), chosen);
    }

    private static Optional<String> checkUsable(Row row, Scale scale, Threshold threshold, List<Chosen> chosen) {
        String condition = normal(row.condition());
        if (!threshold.offered()) {
            return Optional.of("'" + threshold.id() + "' is listed but never used: "
                    + threshold.whyNotOffered().orElse("no reason given"));
        }
        if (threshold.value().isEmpty()) {
            return Optional.of("'" + threshold.id() + "' has no single value.");
        }
        if (threshold.metric() != scale.metric()) {
            return Optional.of(
                    "'" + threshold.id() + "' is a " + threshold.metric().code() + ", the scale a "
                            + scale.metric().code() + ". They are never compared.");
        }
        switch (threshold.kind()) {
            case MCID, MDC, PASS -> {}
            default -> {
                return Optional.of("'" + threshold.id() + "' is a "
                        + threshold.kind().code() + ". Choose an mcid, an mdc or a pass.");
            }
        }
        if (!threshold.boundTo().isEmpty()
                && threshold.boundTo().stream().noneMatch(b -> normal(b).equals(condition))) {
            return Optional.of("'" + threshold.id() + "' holds only for " + String.join(", ", threshold.boundTo())
                    + ". Name that in the column condition.");
        }
        boolean twice = chosen.stream()
                .anyMatch(c -> c.instrument().equals(row.instrument())
                        && c.scale().equals(scale.id())
                        && c.condition().equals(condition)
                        && c.threshold().kind() == threshold.kind());
        if (twice) {
            return Optional.of(
                    "a second " + threshold.kind().code() + " for the same scale and condition. Keep one row.");
        }
        chosen.add(new Chosen(row.instrument(), scale.id(), condition, threshold));
        return Optional.empty();
    }

    /** The MCID for an episode of that condition: the user's for the condition, the user's for all, else the default. */
    public Optional<Threshold> mcid(Instrument instrument, Scale scale, Optional<String> condition) {
        return find(instrument, scale, condition, Threshold.Kind.MCID);
    }

    /** The MDC for an episode of that condition. */
    public Optional<Threshold> mdc(Instrument instrument, Scale scale, Optional<String> condition) {
        return find(instrument, scale, condition, Threshold.Kind.MDC);
    }

    /** The PASS for an episode of that condition. */
    public Optional<Threshold> pass(Instrument instrument, Scale scale, Optional<String> condition) {
        return find(instrument, scale, condition, Threshold.Kind.PASS);
    }

    private Optional<Threshold> find(
            Instrument instrument, Scale scale, Optional<String> condition, Threshold.Kind kind) {
        String wanted = condition.map(ThresholdChoice::normal).orElse("");
        Optional<Threshold> own = chosenFor(instrument, scale, wanted, kind);
        return own.or(() -> wanted.isEmpty() ? Optional.empty() : chosenFor(instrument, scale, "", kind))
                .or(() -> defaultOf(instrument, scale, kind).filter(t -> holdsFor(t, condition)));
    }

    private Optional<Threshold> chosenFor(Instrument instrument, Scale scale, String condition, Threshold.Kind kind) {
        return chosen.stream()
                .filter(c -> c.instrument().equals(instrument.id().value()))
                .filter(c -> c.scale().equals(scale.id()) && c.condition().equals(condition))
                .map(Chosen::threshold)
                .filter(t -> t.kind() == kind)
                .findFirst();
    }

    private static Optional<Threshold> defaultOf(Instrument instrument, Scale scale, Threshold.Kind kind) {
        return scale.defaults()
                .flatMap(d -> switch (kind) {
                    case MCID -> d.mcid();
                    case MDC -> d.mdc();
                    default -> d.pass();
                })
                .flatMap(instrument::threshold);
    }

    /** Whether a threshold holds for an episode of that condition: it is bound to none, or to this one. */
    static boolean holdsFor(Threshold threshold, Optional<String> condition) {
        return threshold.boundTo().isEmpty()
                || condition.isPresent()
                        && threshold.boundTo().stream().anyMatch(b -> normal(b).equals(normal(condition.get())));
    }

    private static String normal(String condition) {
        return condition.strip().toLowerCase(Locale.ROOT);
    }

    /** Whether the user chose anything. */
    public boolean isDefault() {
        return chosen.isEmpty();
    }

    /** The thresholds the user chose, in the order of the file. */
    public List<Threshold> chosen() {
        return chosen.stream().map(Chosen::threshold).toList();
    }
}
