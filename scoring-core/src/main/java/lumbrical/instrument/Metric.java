package lumbrical.instrument;

/** The unit family of a score. Values of different metrics are never compared. */
public enum Metric {
    SUM("sum"),
    MEAN("mean"),
    ZERO_TO_HUNDRED("0-100"),
    PERCENT("percent"),
    T_SCORE("t-score"),
    RATING("rating");

    private final String code;

    Metric(String code) {
        this.code = code;
    }

    /** The word used in definitions and outputs. */
    public String code() {
        return code;
    }
}
