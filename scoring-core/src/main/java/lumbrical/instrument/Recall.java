package lumbrical.instrument;

import java.util.OptionalInt;

/**
 * The time a form asks about.
 *
 * @param days recall period in days, where the form states one
 * @param note the period in words
 */
public record Recall(OptionalInt days, String note, Provenance provenance) {}
