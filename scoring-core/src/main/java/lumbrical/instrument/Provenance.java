package lumbrical.instrument;

/**
 * Who says so, and how sure that is.
 *
 * @param standing how sure the fact is
 * @param source key of a {@link Source} of the instrument, or {@code ours} or {@code from-memory} where there is none
 */
public record Provenance(Standing standing, String source) {
    /** @throws IllegalArgumentException if {@code source} is blank */
    public Provenance {
        if (source.isBlank()) {
            throw new IllegalArgumentException("A fact needs the key of its source");
        }
    }

    /** Whether the fact was seen in a published source. */
    public boolean published() {
        return standing == Standing.PUBLISHED;
    }
}
