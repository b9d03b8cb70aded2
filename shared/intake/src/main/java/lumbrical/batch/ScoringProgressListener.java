package lumbrical.batch;

import lumbrical.tabular.ProgressListener;

/** Told how far a run is, and when the scoring of a sitting begins and ends, for whoever wants to know where the time goes. */
public interface ScoringProgressListener extends ProgressListener {
    /** Nobody wants to know. */
    ScoringProgressListener NOBODY = of(ProgressListener.NOBODY);

    /** For whoever wants to know only how far it is. */
    static ScoringProgressListener of(ProgressListener watch) {
        return watch::read;
    }

    /** A sitting has been read and is about to be scored. */
    default void begins() {}

    /** It is scored. */
    default void ends() {}
}
