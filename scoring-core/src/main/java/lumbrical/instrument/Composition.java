package lumbrical.instrument;

import java.util.List;
import java.util.Optional;
import java.util.function.Function;

/** What a scale is made of. */
public sealed interface Composition {
    /** What is made of it, of either kind. */
    <T> T fold(Function<FromItems, T> fromItems, Function<FromParts, T> fromParts);

    /** The items it is computed from, if it is computed from items. */
    default Optional<FromItems> fromItems() {
        return fold(Optional::of, parts -> Optional.empty());
    }

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

        @Override
        public <T> T fold(Function<FromItems, T> fromItems, Function<FromParts, T> fromParts) {
            return fromItems.apply(this);
        }

        /** Whether {@code item} is one of its items. */
        public boolean uses(Item item) {
            return items.stream().anyMatch(i -> i.item().id().equals(item.id()));
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

        @Override
        public <T> T fold(Function<FromItems, T> fromItems, Function<FromParts, T> fromParts) {
            return fromParts.apply(this);
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
