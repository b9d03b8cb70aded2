package lumbrical.intake;

/** What to do about a formula whose value is not stored in the file. */
final class FormulaAdvice {
    private static final String MEND =
            "The cell holds a formula whose value is not stored in the file. Open the file in a spreadsheet, let it"
                    + " calculate, and save it"
                    + " again.";
    /** Where the cell counts as blank. */
    static final String TAKEN_AS_BLANK = MEND + " Until then the cell counts as blank.";
    /** Where the row gives no sitting. */
    static final String ROW_REJECTED = "The row is rejected. " + MEND;
    /** Where a scale is not scored. */
    static final String NOT_SCORED = "The scale is not scored for this form. " + MEND;
    /** Where the user wants what is not allowed treated as not answered. */
    static final String NOT_ANSWERED = "It is treated as not answered. " + MEND;

    private FormulaAdvice() {}
}
