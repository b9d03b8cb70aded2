package lumbrical.instrument;

import java.util.Optional;

/**
 * A response column of an instrument: an item, or an item of one hand.
 *
 * @param index position among the instrument's columns, from 0
 * @param name heading in a response table, with the instrument's prefix
 * @param item the item
 * @param hand {@link Side#RIGHT} or {@link Side#LEFT} for an item asked of each hand, else empty
 */
public record Column(int index, String name, Item item, Optional<Side> hand) {
    /** The heading without the instrument's prefix: the item's id, with its hand where it is asked of each. */
    public String shortName() {
        return item.id() + hand.map(h -> "_" + h.code()).orElse("");
    }
}
