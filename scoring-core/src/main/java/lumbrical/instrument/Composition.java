package lumbrical.instrument;

import java.util.List;
import java.util.Optional;

/** What a scale is made of. */
public sealed interface Composition {
    /**
     * A scale computed from items.
     *
     * @param items the items in the order of the form, at least one
     * @param rule the formula
     * @param missing what unanswered items do
     * @param skip a response that lets the person skip the other items
     */
    record FromItems(List<ScaleItem> items, ItemRule rule, MissingRule missing, Optional<Skip> skip)
            implements Composition {
        /** @throws IllegalArgumentException if there is no item */
        public FromItems {
            items = List.copyOf(items);
            if (items.isEmpty()) {
                throw new IllegalArgumentException("A scale needs at least one item");
            }
        }
    }

    /**
     * A scale computed from other scales.
     *
     * @param parts scales declared before this one, at least two
     * @param rule the formula
     */
    record FromParts(List<Part> parts, PartRule rule) implements Composition {
        /** @throws IllegalArgumentException if there are fewer than two parts */
        public FromParts {
            parts = List.copyOf(parts);
            if (parts.size() < 2) {
                throw new IllegalArgumentException("A scale of parts needs at least two");
            }
        }
    }

    /**
     * An item of a scale.
     *
     * @param reversed whether {@code low code + high code - response} stands for the response
     */
    record ScaleItem(Item item, boolean reversed) {}

    /**
     * A part of a scale.
     *
     * @param reversed whether {@code low end + high end - score} stands for the part's score
     */
    record Part(ScaleId scale, boolean reversed) {}

    /**
     * A response after which the form tells the person to leave out all other items of the scale: these are then not missing.
     *
     * @param item the item that decides
     * @param code its response
     * @param score the scale's score then
     */
    record Skip(Item item, double code, double score, Provenance provenance, Optional<String> note) {}
}
