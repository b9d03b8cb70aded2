package lumbrical.scoring;

/** One computation of a compiled plan: reads responses and earlier slots, fills its own slot. */
sealed interface Step permits ItemsStep, PartsStep, HandsStep {
    /**
     * Computes.
     *
     * @param responses one value per column of the instrument
     * @param offset position of the instrument's first column in {@code responses}
     * @param validated whether every response is known to be one that its item allows, or NaN
     * @param requested columns whose scales give a row even without an answer
     */
    void run(double[] responses, int offset, boolean validated, RequestedColumns requested, ScoreBuffer out);

    /** What this step did with the same responses, after {@link #run} has filled {@code out} from them. */
    ScaleTrace trace(double[] responses, int offset, ScoreBuffer out);
}
