package lumbrical.change;

import java.util.Locale;

/** Whether a change is as large as patients call important. The codes are written to files. */
public enum ReachesMcid {
    /** Direction by the MCID or more. */
    IMPROVED,
    /** Worse by the MCID or more; the mirror is our convention. */
    WORSENED,
    /** Neither. */
    NO,
    /** No MCID is known. */
    UNKNOWN;

    /** The code in files. */
    public String code() {
        return name().toLowerCase(Locale.ROOT);
    }
}
