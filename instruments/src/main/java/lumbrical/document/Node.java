package lumbrical.document;

import java.util.ArrayList;
import java.util.Collection;
import java.util.Collections;
import java.util.HashSet;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.OptionalInt;
import java.util.Set;
import java.util.function.Function;

/**
 * An object of a document with its JSON path. Each getter records a fault for what is absent or of the wrong kind and then
 * returns a stand-in, so that reading goes on and finds the rest.
 */
public final class Node {
    private final Json.Obj object;
    private final String path;
    private final Faults faults;
    private final Set<String> read = new HashSet<>();

    private Node(Json.Obj object, String path, Faults faults) {
        this.object = object;
        this.path = path;
        this.faults = faults;
    }

    /** The object {@code value}, found at {@code path}; a fault and an empty one if it is no object. */
    public static Node of(Json value, String path, Faults faults) {
        if (value instanceof Json.Obj object) {
            return new Node(object, path, faults);
        }
        faults.add(path, value.kind() + ", but must be an object.");
        return new Node(new Json.Obj(Map.of()), path, faults);
    }

    /** JSON path of this object. */
    public String path() {
        return path;
    }

    /** Where faults are recorded. */
    public Faults faults() {
        return faults;
    }

    /** JSON path of a member. */
    public String path(String key) {
        return path + "." + key;
    }

    /** Records a fault of a member. */
    public void fault(String key, String message) {
        faults.add(path(key), message);
    }

    /** Whether there is such a member. */
    public boolean has(String key) {
        read.add(key);
        return object.members().containsKey(key);
    }

    private Optional<Json> member(String key) {
        read.add(key);
        return Optional.ofNullable(object.members().get(key));
    }

    private <T extends Json> Optional<T> member(String key, Class<T> kind, String words) {
        Optional<Json> value = member(key);
        if (value.isPresent() && !kind.isInstance(value.get())) {
            fault(key, value.get().kind() + ", but must be " + words + ".");
        }
        return value.filter(kind::isInstance).map(kind::cast);
    }

    private <T> T required(String key, Optional<T> value, T standIn) {
        if (!object.members().containsKey(key)) {
            fault(key, "absent.");
        }
        return value.orElse(standIn);
    }

    /** The text at {@code key}, or empty; a blank one is a fault. */
    public Optional<String> optionalText(String key) {
        Optional<String> text = member(key, Json.Text.class, "a text").map(Json.Text::value);
        if (text.isPresent() && text.get().isBlank()) {
            fault(key, "blank. Leave the key out or fill it.");
        }
        return text;
    }

    /** The text at {@code key}; absent is a fault. */
    public String text(String key) {
        return required(key, optionalText(key), "?");
    }

    /** The number at {@code key}, or empty. */
    public OptionalDouble optionalNumber(String key) {
        return member(key, Json.Num.class, "a number")
                .map(n -> OptionalDouble.of(n.value()))
                .orElse(OptionalDouble.empty());
    }

    /** The number at {@code key}; absent is a fault and gives {@code standIn}. */
    public double number(String key, double standIn) {
        OptionalDouble value = optionalNumber(key);
        return required(key, value.isPresent() ? Optional.of(value.getAsDouble()) : Optional.empty(), standIn);
    }

    /** The whole number at {@code key}, or empty. */
    public OptionalInt optionalWhole(String key) {
        OptionalDouble value = optionalNumber(key);
        if (value.isEmpty()) {
            return OptionalInt.empty();
        }
        if (value.getAsDouble() != (int) value.getAsDouble()) {
            fault(key, value.getAsDouble() + ", but must be a whole number.");
        }
        return OptionalInt.of((int) value.getAsDouble());
    }

    /** The whole number at {@code key}; absent is a fault and gives {@code standIn}. */
    public int whole(String key, int standIn) {
        OptionalInt value = optionalWhole(key);
        return required(key, value.isPresent() ? Optional.of(value.getAsInt()) : Optional.empty(), standIn);
    }

    /** True or false at {@code key}. */
    public boolean flag(String key, boolean whenAbsent) {
        return member(key, Json.Bool.class, "true or false")
                .map(Json.Bool::value)
                .orElse(whenAbsent);
    }

    /** The words of a closed set and what each stands for, in their order. */
    public static <T> Map<String, T> words(T[] values, Function<T, String> code) {
        Map<String, T> words = new LinkedHashMap<>();
        for (T value : values) {
            words.put(code.apply(value), value);
        }
        return Collections.unmodifiableMap(words);
    }

    /** The value of a closed set whose word stands at {@code key}. */
    public <T> T word(String key, Map<String, T> words, T standIn) {
        Optional<String> text = optionalText(key);
        return known(key, text, text.map(words::get), words.keySet(), standIn);
    }

    /** The text at {@code key}, which must be one of {@code allowed}. */
    public String oneOf(String key, Collection<String> allowed, String standIn) {
        Optional<String> text = optionalText(key);
        return known(key, text, text.filter(allowed::contains), allowed, standIn);
    }

    private <T> T known(String key, Optional<String> text, Optional<T> value, Collection<String> allowed, T standIn) {
        if (text.isPresent() && value.isEmpty()) {
            fault(key, "'" + text.get() + "', but must be one of " + String.join(", ", allowed) + ".");
        }
        return required(key, value, standIn);
    }

    /** The object at {@code key}, or empty. */
    public Optional<Node> optionalNode(String key) {
        return member(key).map(value -> of(value, path(key), faults));
    }

    /** The object at {@code key}; absent is a fault. */
    public Node node(String key) {
        return required(key, optionalNode(key), new Node(new Json.Obj(Map.of()), path(key), new Faults()));
    }

    /** Elements of an array with their paths; empty if absent. */
    public List<Element> elements(String key) {
        List<Json> values =
                member(key, Json.Arr.class, "an array").map(Json.Arr::elements).orElse(List.of());
        List<Element> elements = new ArrayList<>();
        for (int i = 0; i < values.size(); i++) {
            elements.add(new Element(values.get(i), path(key) + "[" + i + "]", faults));
        }
        return elements;
    }

    /** Elements of an array with their paths; absent is a fault. */
    public List<Element> requiredElements(String key) {
        List<Element> elements = elements(key);
        return required(key, Optional.of(elements), elements);
    }

    /** Texts of an array; empty if absent. */
    public List<String> texts(String key) {
        return elements(key).stream().map(Element::text).toList();
    }

    /** Numbers of an array; empty if absent. */
    public List<Double> numbers(String key) {
        return elements(key).stream().map(Element::number).toList();
    }

    /** All members, which are then taken as read. */
    public Set<String> keys() {
        read.addAll(object.members().keySet());
        return object.members().keySet();
    }

    /** Records every key that nobody asked for. To be called when all is read. */
    public void refuseOtherKeys() {
        for (String key : object.members().keySet()) {
            if (!read.contains(key)) {
                String meant = Nearest.to(key, read.stream().sorted().toList())
                        .map(k -> " Did you mean \"" + k + "\"?")
                        .orElse("");
                fault(key, "unknown key." + meant);
            }
        }
    }

    /** One element of an array. */
    public record Element(Json value, String path, Faults faults) {
        /** The element as an object. */
        public Node node() {
            return Node.of(value, path, faults);
        }

        /** Whether the element is a text. */
        public boolean isText() {
            return value instanceof Json.Text;
        }

        /** The element as a text. */
        public String text() {
            if (value instanceof Json.Text text) {
                return text.value();
            }
            faults.add(path, value.kind() + ", but must be a text.");
            return "?";
        }

        /** The element as a number. */
        public double number() {
            if (value instanceof Json.Num number) {
                return number.value();
            }
            faults.add(path, value.kind() + ", but must be a number.");
            return 0;
        }
    }
}
