package org.handoutcomes.catalogue;

import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.function.Supplier;

/** Faults of one definition, gathered while it is read. */
final class Faults {
    private final List<String> lines = new ArrayList<>();

    void add(String path, String message) {
        lines.add(path + ": " + message);
    }

    boolean none() {
        return lines.isEmpty();
    }

    List<String> lines() {
        return List.copyOf(lines);
    }

    /** The value made, or empty and a fault if its parts do not go together. */
    <T> Optional<T> attempt(String path, Supplier<T> maker) {
        try {
            return Optional.of(maker.get());
        } catch (IllegalArgumentException e) {
            add(path, String.valueOf(e.getMessage()) + ".");
            return Optional.empty();
        }
    }
}
