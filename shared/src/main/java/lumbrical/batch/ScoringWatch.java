package lumbrical.batch;

import lumbrical.table.ReadWatch;

/** Told how far a run is, and when the scoring of a sitting begins and ends, for whoever wants to know where the time goes. */
public interface ScoringWatch extends ReadWatch {
    /** Nobody wants to know. */
    ScoringWatch NOBODY = of(ReadWatch.NOBODY);

    /** For whoever wants to know only how far it is. */
    static ScoringWatch of(ReadWatch watch) {
        return watch::read;
    }

    /** A sitting has been read and is about to be scored. */
    default void begins() {}

    /** It is scored. */
    default void ends() {}
}
