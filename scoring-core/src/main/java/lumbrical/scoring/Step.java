package lumbrical.scoring;

/** One computation of a compiled plan: reads responses and earlier slots, fills its own slot. */
sealed interface Step permits ItemsStep, PartsStep, HandsStep {
    /**
     * @param responses one value per column of the instrument
     * @param offset position of the instrument's first column in {@code responses}
     * @param known whether every response is known to be one that its item allows, or NaN
     * @param named columns whose scales give a row even without an answer
     */
    void run(double[] responses, int offset, boolean known, RequestedColumns named, ScoreBuffer out);
}
