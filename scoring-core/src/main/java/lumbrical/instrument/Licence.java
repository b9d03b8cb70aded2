package lumbrical.instrument;

import java.util.Optional;

/**
 * Who holds the rights in an instrument and on what terms it may be used.
 *
 * @param holder who holds them
 * @param terms our word for the terms, such as {@code free-for-clinical-use}
 * @param grantedBy who grants it
 * @param note a sentence a user should read
 * @param wordingIncluded whether the definition ships the wording of items (only where it is ours and open)
 * @param spdx identifier of an open licence
 */
public record Licence(
        String holder,
        String terms,
        String grantedBy,
        Optional<String> note,
        boolean wordingIncluded,
        Optional<String> spdx,
        Provenance provenance) {
    /** Terms that nobody stated. */
    public static final Licence NOT_STATED = new Licence(
            "not stated",
            "not-stated",
            "not stated",
            Optional.empty(),
            false,
            Optional.empty(),
            new Provenance(Standing.OURS, "ours"));
}
