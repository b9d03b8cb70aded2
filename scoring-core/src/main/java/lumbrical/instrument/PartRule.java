package lumbrical.instrument;

/** How a scale is computed from other scales. Every part must have a score. */
public sealed interface PartRule {
    /** Who states the formula. */
    Provenance provenance();

    /** Sum of the parts. */
    record SumOfParts(Provenance provenance) implements PartRule {}

    /** Mean of the parts. */
    record MeanOfParts(Provenance provenance) implements PartRule {}
}
