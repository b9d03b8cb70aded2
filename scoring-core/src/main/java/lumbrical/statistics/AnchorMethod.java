package lumbrical.statistics;

/**
 * A way to read an MCID from a rating of change (the anchor). Codes are written to files: add, never rename.
 *
 * <p>Which of them the literature prefers differs: Terwee et al. 2021 (Qual Life Res 30:2729-2754, doi:10.1007/s11136-021-02925-y)
 * recommend predictive modelling. All seven are given, since one set of data can yield very different values.
 */
public enum AnchorMethod {
    /** Mean improvement of those at the anchor's first step up (Terluin et al. 2021, doi:10.1007/s11136-021-02886-2, introduction). */
    MEAN_CHANGE("mean-change"),

    /** That minus the mean improvement of those unchanged (doi:10.1186/s12874-022-01600-1). */
    MEAN_DIFFERENCE("mean-difference"),

    /** The threshold with the largest sensitivity + specificity - 1 (doi:10.1186/s12874-022-01600-1). */
    ROC_YOUDEN("roc-youden"),

    /** The threshold nearest to the corner of sensitivity and specificity 1 (doi:10.1186/s12874-022-01600-1). */
    ROC_CORNER("roc-corner"),

    /**
     * The improvement at which the odds are those of the whole sample: {@code (ln(q / (1 - q)) - C) / B} of the logistic line {@code C +
     * B x}, q being the proportion improved (Terluin et al. 2015, J Clin Epidemiol 68:1388-1396, doi:10.1016/j.jclinepi.2015.03.015;
     * formula second-hand).
     */
    PREDICTIVE("predictive"),

    /**
     * That minus {@code (0.090 + 0.103 r) SD ln(q / (1 - q))}, r being the point-biserial correlation of improvement and being improved,
     * SD that of the improvements (Terluin et al. 2017, J Clin Epidemiol 83:90-100, doi:10.1016/j.jclinepi.2016.12.015; formula
     * second-hand).
     */
    PREDICTIVE_ADJUSTED("predictive-adjusted"),

    /**
     * Mean of the unchanged plus z(0.95) times their SD, z being the exact normal quantile (after de Vet; from memory): 95 % of the
     * unchanged lie below it if they are normal.
     */
    LIMIT_95("limit-95");

    private final String code;

    AnchorMethod(String code) {
        this.code = code;
    }

    /** The code in files. */
    public String code() {
        return code;
    }
}
