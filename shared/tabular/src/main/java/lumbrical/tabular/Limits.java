package lumbrical.tabular;

/** What a file may hold at most, so that a hostile or broken one ends in one clear message. Ours. */
public final class Limits {
    /** Characters of one row of a CSV file. */
    static final int ROW_CHARACTERS = 4_000_000;
    /** Characters of one cell. */
    public static final int CELL_CHARACTERS = 32_767;
    /** Columns of a table. */
    public static final int COLUMNS = 16_384;
    /** Rows of a sheet, as many as a spreadsheet can hold. */
    static final int SHEET_ROWS = 1_048_576;
    /** Bytes of one part of a workbook after unpacking. */
    static final long PART_BYTES = 2_000_000_000L;
    /** Characters of all shared texts of a workbook. */
    static final long SHARED_TEXT_CHARACTERS = 100_000_000L;
    /** Unpacked bytes for each packed byte of a workbook's part, at most. */
    static final double INFLATION = 200;

    private Limits() {}
}
