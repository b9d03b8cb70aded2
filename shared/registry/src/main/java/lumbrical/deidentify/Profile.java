package lumbrical.deidentify;

import java.util.List;
import java.util.Optional;

/**
 * What a registry may be sent: a list of allowed columns; everything else stays at home.
 *
 * @param id name of the profile
 * @param version its version
 * @param study short name of the study or registry, the same in every file
 * @param dates what becomes of dates
 * @param smallCell people alike in what is sent of them in a group of fewer than this stop an upload; 0 = never
 * @param columns columns that may leave, in the order of the files
 */
public record Profile(
        String id, String version, String study, Dates dates, int smallCell, List<AllowedColumn> columns) {
    /** What is used without a profile, and coarse: ages by tens, weeks, no year, no day of closing and no death. Our convention. */
    public static final Profile DEFAULT = new Profile(
            "default",
            "2",
            Sender.DEFAULT_STUDY,
            Dates.WEEKS_FROM_INDEX,
            5,
            List.of(
                    new AllowedColumn("sex", List.of("female", "male", "other", "unknown")),
                    AllowedColumn.of("age_band"),
                    AllowedColumn.of("dominant_side"),
                    new AllowedColumn("closed_reason", List.of("withdrawn", "moved", "revision", "other")),
                    new AllowedColumn("mode", List.of("paper", "phone", "web")),
                    new AllowedColumn("respondent", List.of("self", "proxy")),
                    AllowedColumn.of("language")));

    /** Copies the list. */
    public Profile {
        columns = List.copyOf(columns);
    }

    /** What becomes of dates. */
    public enum Dates {
        /** Weeks from the index date, without a year. */
        WEEKS_FROM_INDEX("weeks-from-index"),
        /** Days from the index date; the year is kept. */
        DAYS_FROM_INDEX("days-from-index"),
        /** Every date of a patient is moved by the same secret number of days. */
        SHIFTED("shifted");

        private final String code;

        Dates(String code) {
            this.code = code;
        }

        /** The word used in profiles. */
        public String code() {
            return code;
        }
    }

    /**
     * A column that may leave.
     *
     * @param name its heading in the episodes or responses, or {@code age}, {@code age_band}, {@code closed_day}, {@code closed_week}
     * @param values texts that may leave; any other is left blank and counted. Empty for a column of few values by nature
     */
    public record AllowedColumn(String name, List<String> values) {
        /** Copies the list. */
        public AllowedColumn {
            values = List.copyOf(values);
        }

        static AllowedColumn of(String name) {
            return new AllowedColumn(name, List.of());
        }
    }

    /** The allowed column of that name, or empty. */
    public Optional<AllowedColumn> column(String name) {
        return columns.stream().filter(c -> c.name().equals(name)).findFirst();
    }
}
