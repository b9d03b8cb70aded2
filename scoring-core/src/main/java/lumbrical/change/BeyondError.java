package lumbrical.change;

import java.util.Locale;

/** Whether a change is larger than measurement error explains. The codes are written to files. */
public enum BeyondError {
    /** The change, either way, is at least the MDC. */
    YES,
    /** It is smaller. */
    NO,
    /** No MDC is known. */
    UNKNOWN;

    /** The code in files. */
    public String code() {
        return name().toLowerCase(Locale.ROOT);
    }
}
