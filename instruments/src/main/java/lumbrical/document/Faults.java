package lumbrical.document;

import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.function.Supplier;

/** Faults of one document, gathered while it is read. */
public final class Faults {
    private final List<String> lines = new ArrayList<>();

    /** None yet. */
    public Faults() {}

    /** Records a fault at a JSON path. */
    public void add(String path, String message) {
        lines.add(path + ": " + message);
    }

    /** Whether no fault was found. */
    public boolean none() {
        return lines.isEmpty();
    }

    /** One line per fault: its path and what is wrong. */
    public List<String> lines() {
        return List.copyOf(lines);
    }

    /** The value made, or empty and a fault if its parts do not go together. */
    public <T> Optional<T> attempt(String path, Supplier<T> maker) {
        try {
            return Optional.of(maker.get());
        } catch (IllegalArgumentException e) {
            add(path, String.valueOf(e.getMessage()) + ".");
            return Optional.empty();
        }
    }
}
