package lumbrical.scoring;

import java.util.List;
import java.util.OptionalDouble;
import lumbrical.instrument.Composition;

/** What a plan did to score one scale, so that it can be told and done again by hand. */
public sealed interface ScaleTrace {
    /** What is made of it, of whichever kind. */
    <T> T fold(Kinds<T> kinds);

    /**
     * A case for every kind of trace.
     *
     * @param <T> what is made of a trace
     */
    interface Kinds<T> {
        /** Items were summed. */
        T fromItems(FromItems trace);

        /** Scores of other scales were summed. */
        T fromParts(FromParts trace);

        /** Right and left were averaged. */
        T bothHands(BothHands trace);
    }

    /**
     * Items were summed.
     *
     * @param made the scale's items and rules
     * @param items each item, in the order of the form
     * @param skipped whether a response lets the person leave out the others
     * @param required the fewest answered items with which it is scored
     * @param standInOff whether nothing may stand in for an unanswered item in this run
     */
    record FromItems(
            Composition.FromItems made, List<ItemUsed> items, boolean skipped, int required, boolean standInOff)
            implements ScaleTrace {
        /** Copies the list. */
        public FromItems {
            items = List.copyOf(items);
        }

        /** How many items were answered with an allowed response. */
        public int answered() {
            return (int) items.stream().filter(i -> i.used().isPresent()).count();
        }

        /** How many items were not answered. */
        public int unanswered() {
            return (int) items.stream().filter(i -> !i.entered()).count();
        }

        /** The sum of what the answered items added, in the order of the form. */
        public double sum() {
            double sum = 0;
            for (ItemUsed item : items) {
                sum += item.used().orElse(0);
            }
            return sum;
        }

        @Override
        public <T> T fold(Kinds<T> kinds) {
            return kinds.fromItems(this);
        }
    }

    /**
     * An item.
     *
     * @param item the item, and whether it is reversed
     * @param column position of its column
     * @param response what was answered, if it is allowed
     * @param used what it added to the sum
     * @param entered whether anything stands there, allowed or not
     */
    record ItemUsed(
            Composition.ScaleItem item, int column, OptionalDouble response, OptionalDouble used, boolean entered) {}

    /**
     * Scores of other scales were summed.
     *
     * @param made the scale's parts and rule
     * @param parts each part, in the order of the definition
     */
    record FromParts(Composition.FromParts made, List<PartUsed> parts) implements ScaleTrace {
        /** Copies the list. */
        public FromParts {
            parts = List.copyOf(parts);
        }

        @Override
        public <T> T fold(Kinds<T> kinds) {
            return kinds.fromParts(this);
        }
    }

    /**
     * A part.
     *
     * @param part the part, and whether it is reversed
     * @param score its score, if it has one
     * @param used what it added to the sum
     * @param ends the lowest plus the highest score of a reversed part, from which its score is taken; else 0
     */
    record PartUsed(Composition.Part part, OptionalDouble score, OptionalDouble used, double ends) {}

    /**
     * Right and left were averaged.
     *
     * @param right the right hand's score, if there is one
     * @param left the left hand's score, if there is one
     */
    record BothHands(OptionalDouble right, OptionalDouble left) implements ScaleTrace {
        @Override
        public <T> T fold(Kinds<T> kinds) {
            return kinds.bothHands(this);
        }
    }
}
