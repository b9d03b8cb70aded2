package org.handoutcomes.batch;

/** Told when the scoring of a sitting begins and ends, for whoever wants to know where the time goes. */
public interface ScoringWatch {
    /** Nobody wants to know. */
    ScoringWatch NOBODY = new ScoringWatch() {
        @Override
        public void begins() {
            // nobody wants to know
        }

        @Override
        public void ends() {
            // nobody wants to know
        }
    };

    /** A sitting has been read and is about to be scored. */
    void begins();

    /** It is scored. */
    void ends();
}
