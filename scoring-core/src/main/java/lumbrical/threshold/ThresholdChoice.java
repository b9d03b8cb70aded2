package lumbrical.threshold;

import java.util.ArrayList;
import java.util.Collection;
import java.util.HashSet;
import java.util.List;
import java.util.Optional;
import java.util.Set;
import java.util.function.Function;
import lumbrical.condition.ConditionMatch;
import lumbrical.condition.ConditionVocabulary;
import lumbrical.condition.EpisodeCondition;
import lumbrical.instrument.Instrument;
import lumbrical.instrument.Scale;
import lumbrical.instrument.ScaleId;
import lumbrical.instrument.Threshold;

/**
 * The thresholds used. For each kind by itself: the user's row for the condition, the user's row for all, the definition's default
 * for the condition, its general default. A threshold bound to conditions holds for their episodes alone. Immutable.
 */
public final class ThresholdChoice {
    /** The definitions' general defaults, where no condition is known. */
    public static final ThresholdChoice DEFAULTS = new ThresholdChoice(ConditionVocabulary.EMPTY, List.of());

    private final ConditionVocabulary vocabulary;
    private final List<Chosen> chosen;

    private record Chosen(Row row, ScaleId scale, EpisodeCondition condition, Threshold threshold) {
        boolean isFor(Instrument instrument, Scale of, Threshold.Kind kind) {
            return row.instrument().equals(instrument.id().value())
                    && scale.equals(of.id())
                    && threshold.kind() == kind;
        }

        boolean isForAll() {
            return condition.equals(EpisodeCondition.NONE);
        }
    }

    /**
     * A row of the user's choice.
     *
     * @param where file and row, for messages
     * @param instrument instrument id
     * @param scale scale id
     * @param condition condition of the episodes it is for, by id, label, synonym, code or as the episodes write it; blank = all
     * @param threshold threshold id
     */
    public record Row(String where, String instrument, String scale, String condition, String threshold) {}

    /** What can be wrong with a row. */
    public enum FaultKind {
        INSTRUMENT_UNKNOWN,
        SCALE_UNKNOWN,
        THRESHOLD_UNKNOWN,
        /** Kept because published, and never used. */
        NOT_SELECTABLE,
        /** A span, or no value at all. */
        NO_SINGLE_VALUE,
        OTHER_METRIC,
        /** Neither MCID nor MDC nor PASS. */
        OTHER_KIND,
        /** Bound to a condition that the row does not name. */
        OTHER_CONDITION,
        /** Neither in the vocabulary nor a text of the episodes. */
        CONDITION_UNKNOWN,
        /** A code that fits several conditions. */
        CONDITION_AMBIGUOUS,
        /** The same kind for the same scale and condition stands in an earlier row. */
        CHOSEN_TWICE
    }

    /**
     * A row that cannot be used.
     *
     * @param message what is wrong, in plain words
     */
    public record Fault(Row row, FaultKind kind, String message) {
        /** Place and message. */
        public String inWords() {
            return row.where() + ": " + message;
        }
    }

    /**
     * A choice, or what is wrong with it.
     *
     * @param choice the choice; the defaults if there is a fault
     */
    public record Checked(ThresholdChoice choice, List<Fault> faults) {
        /** Copies the list. */
        public Checked {
            faults = List.copyOf(faults);
        }
    }

    /**
     * Where a choice can be of use: an instrument that was asked, of an episode of that condition.
     *
     * @param instrument instrument id
     */
    public record Use(String instrument, EpisodeCondition condition) {
        // Equality written out: the one a record is given is put together at run time, and every start would pay.

        @Override
        public boolean equals(Object other) {
            return other instanceof Use use && instrument.equals(use.instrument) && condition.equals(use.condition);
        }

        @Override
        public int hashCode() {
            return 31 * instrument.hashCode() + condition.hashCode();
        }
    }

    private ThresholdChoice(ConditionVocabulary vocabulary, List<Chosen> chosen) {
        this.vocabulary = vocabulary;
        this.chosen = List.copyOf(chosen);
    }

    /** The definitions' defaults, for the conditions of a vocabulary too. */
    public static ThresholdChoice defaults(ConditionVocabulary vocabulary) {
        return new ThresholdChoice(vocabulary, List.of());
    }

    /**
     * Checks a user's rows against the definitions. A condition that the vocabulary does not know is taken as a text of the
     * episodes; {@link #strangeConditions} tells those that no episode has.
     */
    public static Checked of(
            List<Row> rows, Function<String, Optional<Instrument>> catalogue, ConditionVocabulary vocabulary) {
        List<Chosen> chosen = new ArrayList<>();
        List<Fault> faults = new ArrayList<>();
        for (Row row : rows) {
            check(row, catalogue, vocabulary, chosen).ifPresentOrElse(faults::add, () -> {});
        }
        return faults.isEmpty()
                ? new Checked(new ThresholdChoice(vocabulary, chosen), List.of())
                : new Checked(defaults(vocabulary), faults);
    }

    private static Optional<Fault> check(
            Row row,
            Function<String, Optional<Instrument>> catalogue,
            ConditionVocabulary vocabulary,
            List<Chosen> chosen) {
        Optional<Instrument> instrument = catalogue.apply(row.instrument());
        if (instrument.isEmpty()) {
            return fault(row, FaultKind.INSTRUMENT_UNKNOWN, "'" + row.instrument() + "' is no instrument.");
        }
        Optional<Scale> scale = instrument.get().scales().stream()
                .filter(s -> s.id().value().equals(row.scale()))
                .findFirst();
        if (scale.isEmpty()) {
            return fault(
                    row, FaultKind.SCALE_UNKNOWN, "'" + row.scale() + "' is no scale of " + row.instrument() + ".");
        }
        Optional<Threshold> threshold = instrument.get().threshold(row.threshold());
        if (threshold.isEmpty() || !threshold.get().scale().equals(scale.get().id())) {
            return fault(
                    row,
                    FaultKind.THRESHOLD_UNKNOWN,
                    "'" + row.threshold() + "' is no threshold of " + row.instrument() + " " + row.scale() + ".");
        }
        return checkThreshold(row, scale.get(), threshold.get())
                .or(() -> checkCondition(row, scale.get(), threshold.get(), vocabulary, chosen));
    }

    private static Optional<Fault> checkThreshold(Row row, Scale scale, Threshold threshold) {
        String id = "'" + threshold.id() + "' ";
        if (!threshold.selectable()) {
            return fault(
                    row,
                    FaultKind.NOT_SELECTABLE,
                    id + "is listed but never used: "
                            + threshold.whyNotSelectable().orElse("no reason given"));
        }
        if (threshold.value().isEmpty()) {
            return fault(row, FaultKind.NO_SINGLE_VALUE, id + "has no single value.");
        }
        if (threshold.metric() != scale.metric()) {
            return fault(
                    row,
                    FaultKind.OTHER_METRIC,
                    id + "is a " + threshold.metric().code() + ", the scale a "
                            + scale.metric().code() + ". They are never compared.");
        }
        return switch (threshold.kind()) {
            case MCID, MDC, PASS -> Optional.empty();
            default ->
                fault(
                        row,
                        FaultKind.OTHER_KIND,
                        id + "is a " + threshold.kind().code() + ". Choose an mcid, an mdc or a pass.");
        };
    }

    private static Optional<Fault> checkCondition(
            Row row, Scale scale, Threshold threshold, ConditionVocabulary vocabulary, List<Chosen> chosen) {
        if (vocabulary.match(row.condition()) instanceof ConditionMatch.Ambiguous several) {
            return fault(
                    row,
                    FaultKind.CONDITION_AMBIGUOUS,
                    "'" + row.condition() + "' fits " + ConditionVocabulary.named(several) + ". Name one of them.");
        }
        EpisodeCondition condition = vocabulary.resolve(Optional.of(row.condition()));
        if (!holdsFor(threshold, condition)) {
            return fault(
                    row,
                    FaultKind.OTHER_CONDITION,
                    "'" + threshold.id() + "' holds only for " + String.join(", ", threshold.conditions())
                            + ". Name that in the column condition.");
        }
        boolean twice = chosen.stream()
                .anyMatch(c -> c.row().instrument().equals(row.instrument())
                        && c.scale().equals(scale.id())
                        && c.condition().equals(condition)
                        && c.threshold().kind() == threshold.kind());
        if (twice) {
            return fault(
                    row,
                    FaultKind.CHOSEN_TWICE,
                    "a second " + threshold.kind().code() + " for the same scale and condition. Keep one row.");
        }
        chosen.add(new Chosen(row, scale.id(), condition, threshold));
        return Optional.empty();
    }

    private static Optional<Fault> fault(Row row, FaultKind kind, String message) {
        return Optional.of(new Fault(row, kind, message));
    }

    /**
     * Rows that name a condition which is neither in the vocabulary nor a text of the episodes.
     *
     * @param episodes the conditions of the episodes
     */
    public List<Fault> strangeConditions(Collection<EpisodeCondition> episodes) {
        Set<EpisodeCondition> known = new HashSet<>(episodes);
        return chosen.stream()
                .filter(c -> c.condition() instanceof EpisodeCondition.OwnText && !known.contains(c.condition()))
                .map(c -> new Fault(c.row(), FaultKind.CONDITION_UNKNOWN, strange(c.row())))
                .toList();
    }

    private String strange(Row row) {
        String meant = vocabulary
                .match(row.condition())
                .fold(k -> Optional.<String>empty(), ConditionMatch.Unknown::didYouMean, a -> Optional.<String>empty())
                .map(m -> " Did you mean '" + m + "'?")
                .orElse("");
        return "'" + row.condition() + "' is neither a known condition nor one that the episodes name." + meant;
    }

    /** Rows that decide nothing where the choice is used, in the order of the file. */
    public List<Row> unusedRows(Collection<Use> uses) {
        Set<Chosen> used = new HashSet<>();
        Set<Use> distinct = new HashSet<>(uses);
        for (Chosen row : chosen) {
            for (Use use : distinct) {
                boolean own = !row.isForAll() && row.condition().equals(use.condition());
                boolean general = row.isForAll()
                        && chosen.stream()
                                .noneMatch(c -> !c.isForAll()
                                        && c.condition().equals(use.condition())
                                        && c.row().instrument().equals(use.instrument())
                                        && c.scale().equals(row.scale())
                                        && c.threshold().kind()
                                                == row.threshold().kind());
                if (row.row().instrument().equals(use.instrument()) && (own || general)) {
                    used.add(row);
                }
            }
        }
        return chosen.stream().filter(c -> !used.contains(c)).map(Chosen::row).toList();
    }

    /** What the condition of an episode is, by the vocabulary of this choice. */
    public EpisodeCondition condition(Optional<String> text) {
        return vocabulary.resolve(text);
    }

    /** The MCID for an episode of that condition. */
    public Optional<Threshold> mcid(Instrument instrument, Scale scale, EpisodeCondition condition) {
        return find(instrument, scale, condition, Threshold.Kind.MCID);
    }

    /** The MDC for an episode of that condition. */
    public Optional<Threshold> mdc(Instrument instrument, Scale scale, EpisodeCondition condition) {
        return find(instrument, scale, condition, Threshold.Kind.MDC);
    }

    /** The PASS for an episode of that condition. */
    public Optional<Threshold> pass(Instrument instrument, Scale scale, EpisodeCondition condition) {
        return find(instrument, scale, condition, Threshold.Kind.PASS);
    }

    /** All that a scale of an episode of that condition is set against. */
    public ThresholdSet thresholds(Instrument instrument, Scale scale, EpisodeCondition condition) {
        return new ThresholdSet(
                mcid(instrument, scale, condition),
                mdc(instrument, scale, condition),
                pass(instrument, scale, condition),
                mdcOfOneItem(instrument, scale, condition),
                PublishedMcids.of(instrument, scale, condition));
    }

    private Optional<Threshold> mdcOfOneItem(Instrument instrument, Scale scale, EpisodeCondition condition) {
        boolean users = chosenFor(instrument, scale, condition, Threshold.Kind.MDC)
                .or(() -> chosenFor(instrument, scale, EpisodeCondition.NONE, Threshold.Kind.MDC))
                .isPresent();
        return users
                ? Optional.empty()
                : instrument.thresholds().stream()
                        .filter(t -> t.ofOneItem()
                                && t.kind() == Threshold.Kind.MDC
                                && t.selectable()
                                && t.scale().equals(scale.id())
                                && holdsFor(t, condition))
                        .findFirst();
    }

    private Optional<Threshold> find(
            Instrument instrument, Scale scale, EpisodeCondition condition, Threshold.Kind kind) {
        return chosenFor(instrument, scale, condition, kind)
                .or(() -> chosenFor(instrument, scale, EpisodeCondition.NONE, kind))
                .or(() -> defaultOf(instrument, scale, condition, kind));
    }

    private Optional<Threshold> chosenFor(
            Instrument instrument, Scale scale, EpisodeCondition condition, Threshold.Kind kind) {
        return chosen.stream()
                .filter(c -> c.isFor(instrument, scale, kind) && c.condition().equals(condition))
                .map(Chosen::threshold)
                .findFirst();
    }

    /** The definition's default for an episode of that condition: the condition's own, else the general one. */
    public static Optional<Threshold> defaultOf(
            Instrument instrument, Scale scale, EpisodeCondition condition, Threshold.Kind kind) {
        return scale.conditionDefaults().stream()
                .filter(d -> condition.isCalled(d.condition()))
                .flatMap(d -> idOf(d.defaults(), kind).stream())
                .findFirst()
                .or(() -> scale.defaults().flatMap(d -> idOf(d, kind)))
                .flatMap(instrument::threshold)
                .filter(t -> holdsFor(t, condition));
    }

    private static Optional<String> idOf(Scale.Defaults defaults, Threshold.Kind kind) {
        return switch (kind) {
            case MCID -> defaults.mcid();
            case MDC -> defaults.mdc();
            case PASS -> defaults.pass();
            default -> Optional.empty();
        };
    }

    /** Whether a threshold holds for an episode of that condition: it is bound to none, or to this one. */
    public static boolean holdsFor(Threshold threshold, EpisodeCondition condition) {
        return threshold.conditions().isEmpty()
                || threshold.conditions().stream().anyMatch(condition::isCalled);
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
