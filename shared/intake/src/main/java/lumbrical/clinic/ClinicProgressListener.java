package lumbrical.clinic;

import lumbrical.batch.ScoringProgressListener;

/** Told how far the analysis of a clinic is. */
public interface ClinicProgressListener extends ScoringProgressListener {
    /** Nobody wants to know. */
    ClinicProgressListener NONE = (input, rows, share) -> {};

    /** Everything is placed in time and judged. */
    default void placed() {}
}
