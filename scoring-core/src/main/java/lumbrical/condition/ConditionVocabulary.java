package lumbrical.condition;

import java.util.ArrayList;
import java.util.Collections;
import java.util.HashMap;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.function.Predicate;
import java.util.stream.Stream;

/** The conditions that are known, and a clinic's own names for them. Immutable. */
public final class ConditionVocabulary {
    /** Knows no condition: every text stands for itself. */
    public static final ConditionVocabulary EMPTY = of(List.of());

    private final List<Condition> conditions;
    private final Map<String, Condition> byName;
    private final Map<String, Condition> own;

    private ConditionVocabulary(List<Condition> conditions, Map<String, Condition> byName, Map<String, Condition> own) {
        this.conditions = List.copyOf(conditions);
        this.byName = Map.copyOf(byName);
        this.own = Collections.unmodifiableMap(new LinkedHashMap<>(own));
    }

    /**
     * A vocabulary of these conditions.
     *
     * @throws IllegalArgumentException if one name belongs to two of them
     */
    public static ConditionVocabulary of(List<Condition> conditions) {
        Map<String, Condition> byName = new HashMap<>();
        for (Condition condition : conditions) {
            for (String name : condition.allNames()) {
                Condition other = byName.put(Names.normal(name), condition);
                if (other != null && !other.id().equals(condition.id())) {
                    throw new IllegalArgumentException(
                            "'" + name + "' is a name of " + other.id() + " and of " + condition.id());
                }
            }
        }
        return new ConditionVocabulary(conditions, byName, Map.of());
    }

    /** The conditions in their order. */
    public List<Condition> conditions() {
        return conditions;
    }

    /** The condition with that id. */
    public Optional<Condition> find(String id) {
        return conditions.stream().filter(c -> c.id().equals(id)).findFirst();
    }

    /**
     * What {@code text} means: by the clinic's own names, then by id, label or synonym, then by code. A code means the condition
     * that lists it or a coarser one. A code that fits two conditions, or is too coarse to tell two apart, means none. Case,
     * repeated blanks and the dot of a code do not matter.
     */
    public ConditionMatch match(String text) {
        Optional<Condition> known = known(text);
        if (known.isPresent()) {
            return new ConditionMatch.Known(known.get());
        }
        if (Condition.Code.isCode(text)) {
            List<Condition> fitting = having(code -> code.holds(text));
            List<Condition> wider = fitting.isEmpty() ? having(code -> code.isWithin(text)) : fitting;
            return wider.size() > 1
                    ? new ConditionMatch.Ambiguous(wider)
                    : new ConditionMatch.Unknown(
                            wider.stream().map(Condition::label).findFirst());
        }
        List<String> names = conditions.stream()
                .flatMap(c -> Stream.concat(Stream.of(c.label()), c.synonyms().stream()))
                .toList();
        return new ConditionMatch.Unknown(Names.nearest(text, names));
    }

    /** The one condition that a text means. */
    private Optional<Condition> known(String text) {
        String name = Names.normal(text);
        Optional<Condition> named = Optional.ofNullable(own.get(name)).or(() -> Optional.ofNullable(byName.get(name)));
        if (named.isPresent() || !Condition.Code.isCode(text)) {
            return named;
        }
        List<Condition> fitting = having(code -> code.holds(text));
        return fitting.size() == 1 ? Optional.of(fitting.get(0)) : Optional.empty();
    }

    private List<Condition> having(Predicate<Condition.Code> code) {
        return conditions.stream()
                .filter(c -> c.codes().stream().anyMatch(code))
                .toList();
    }

    /** What the text of an episode comes to; blank is not stated. A text that means none, or several, stands for itself. */
    public EpisodeCondition resolve(Optional<String> text) {
        String written = text.map(Names::tidy).orElse("");
        if (written.isEmpty()) {
            return EpisodeCondition.NONE;
        }
        return known(written)
                .<EpisodeCondition>map(EpisodeCondition.Known::new)
                .orElseGet(() -> new EpisodeCondition.OwnText(written));
    }

    /**
     * A row of a clinic's own names.
     *
     * @param where file and row, for messages
     * @param text the clinic's text
     * @param condition id, label, synonym or code of a condition
     */
    public record OwnName(String where, String text, String condition) {}

    /** What can be wrong with a row of own names. */
    public enum FaultKind {
        /** The text is blank. */
        TEXT_BLANK,
        /** The condition is none of the vocabulary. */
        CONDITION_UNKNOWN,
        /** The condition is a code that fits several. */
        CONDITION_AMBIGUOUS,
        /** The text stands in an earlier row with another condition. */
        TEXT_TWICE
    }

    /**
     * A row that cannot be used.
     *
     * @param message what is wrong and what would be right, in plain words
     */
    public record Fault(OwnName row, FaultKind kind, String message) {
        /** Place and message. */
        public String inWords() {
            return row.where() + ": " + message;
        }
    }

    /**
     * A vocabulary with own names, or what is wrong with them.
     *
     * @param vocabulary without the own names if there is a fault
     */
    public record Checked(ConditionVocabulary vocabulary, List<Fault> faults) {
        /** Copies the list. */
        public Checked {
            faults = List.copyOf(faults);
        }
    }

    /** This vocabulary with a clinic's own names, which are looked up first. */
    public Checked withMap(List<OwnName> rows) {
        Map<String, Condition> names = new LinkedHashMap<>(own);
        List<Fault> faults = new ArrayList<>();
        Map<String, Condition> added = new HashMap<>();
        for (OwnName row : rows) {
            ConditionMatch match = match(row.condition());
            Optional<Condition> condition = match.found();
            if (Names.tidy(row.text()).isEmpty()) {
                faults.add(new Fault(row, FaultKind.TEXT_BLANK, "the text is blank. Give the text to be understood."));
            } else if (condition.isEmpty()) {
                faults.add(unusable(row, match));
            } else {
                Condition before = added.put(Names.normal(row.text()), condition.get());
                if (before != null && !before.equals(condition.get())) {
                    faults.add(new Fault(
                            row,
                            FaultKind.TEXT_TWICE,
                            "'" + row.text() + "' already means " + before.id() + ". Keep one row."));
                }
            }
        }
        names.putAll(added);
        return faults.isEmpty()
                ? new Checked(new ConditionVocabulary(conditions, byName, names), List.of())
                : new Checked(this, faults);
    }

    private Fault unusable(OwnName row, ConditionMatch match) {
        String value = "'" + row.condition() + "' ";
        return match.fold(
                k -> {
                    throw new IllegalStateException(row.condition() + " is known");
                },
                u -> new Fault(
                        row,
                        FaultKind.CONDITION_UNKNOWN,
                        value + "is no condition."
                                + u.didYouMean()
                                        .map(m -> " Did you mean '" + m + "'?")
                                        .orElse(" Conditions are "
                                                + String.join(
                                                        ", ",
                                                        conditions.stream()
                                                                .map(Condition::id)
                                                                .toList())
                                                + ".")),
                a -> new Fault(
                        row, FaultKind.CONDITION_AMBIGUOUS, value + "fits " + named(a) + ". Give the id of one."));
    }

    /** The conditions of an ambiguous match as a list in words. */
    public static String named(ConditionMatch.Ambiguous match) {
        return String.join(
                " and ", match.conditions().stream().map(Condition::label).toList());
    }
}
