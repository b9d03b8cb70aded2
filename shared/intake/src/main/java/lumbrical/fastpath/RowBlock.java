package lumbrical.fastpath;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.Optional;
import lumbrical.intake.SittingRow;
import lumbrical.problem.Problem;

/**
 * Some rows of a plain wide table, parsed into flat arrays. A row that holds anything out of the ordinary stands as a {@link
 * SittingRow} instead, parsed as every other reader parses it. A block is filled again and again.
 */
final class RowBlock implements TableBlock {
    /** As {@link lumbrical.scoring.ScoringPlan#scoreInto} takes it. */
    static final double NOT_ANSWERED = Double.NaN;

    private static final int EXPECTED_ROWS = 1_024;

    private final int width;
    private final BlockBytes text;
    private int rows;
    private double[] values;
    private int[] line = new int[EXPECTED_ROWS];
    private int[] patientStart = new int[EXPECTED_ROWS];
    private int[] patientEnd = new int[EXPECTED_ROWS];
    private int[] episodeStart = new int[EXPECTED_ROWS];
    private int[] episodeEnd = new int[EXPECTED_ROWS];
    private int[] dateStart = new int[EXPECTED_ROWS];
    private int[] epochDay = new int[EXPECTED_ROWS];
    private byte[] side = new byte[EXPECTED_ROWS];
    private int[] odd = new int[EXPECTED_ROWS];
    private final List<SittingRow> oddRows = new ArrayList<>();
    private final List<Problem> problems = new ArrayList<>();
    private int rejected;

    /**
     * @param width number of responses a row holds
     * @param capacity number of bytes it takes
     */
    RowBlock(int width, int capacity) {
        this.width = width;
        this.text = new BlockBytes(capacity);
        this.values = new double[EXPECTED_ROWS * width];
        Arrays.fill(values, NOT_ANSWERED); // of a column that the table lacks it stays so
    }

    /** Forgets the rows of the last use; the bytes from 0 to {@code to} are now whole rows. */
    void clear(int to) {
        text.clear(to);
        rows = 0;
        rejected = 0;
        oddRows.clear();
        problems.clear();
    }

    @Override
    public BlockBytes text() {
        return text;
    }

    /** Rows that gave a sitting, plain or odd. */
    public int rows() {
        return rows;
    }

    /** Rows rejected. */
    public int rejected() {
        return rejected;
    }

    /** Problems of the block's rows, in their order. */
    public List<Problem> problems() {
        return problems;
    }

    /** The bytes that positions refer to. */
    public byte[] bytes() {
        return text.bytes();
    }

    /** Which line of the block a row stands in, from 0. */
    public int line(int row) {
        return line[row];
    }

    /** The number of the block's first line as a spreadsheet shows it; known once the block's turn has come. */
    public int firstRow() {
        return text.firstRow();
    }

    /** The sitting of an odd row; empty for a plain one. */
    public Optional<SittingRow> oddRow(int row) {
        return odd[row] < 0 ? Optional.empty() : Optional.of(oddRows.get(odd[row]));
    }

    /** Whether the row is plain. */
    public boolean isPlain(int row) {
        return odd[row] < 0;
    }

    /** Responses of all instruments one after the other, {@link #valuesOffset} for each row. */
    public double[] values() {
        return values;
    }

    /** Where a plain row's responses start. */
    public int valuesOffset(int row) {
        return row * width;
    }

    /** Start of the patient's id. */
    public int patientStart(int row) {
        return patientStart[row];
    }

    /** End of the patient's id. */
    public int patientEnd(int row) {
        return patientEnd[row];
    }

    /** Start of the episode's id. */
    public int episodeStart(int row) {
        return episodeStart[row];
    }

    /** End of the episode's id; equal to the start if there is none. */
    public int episodeEnd(int row) {
        return episodeEnd[row];
    }

    /** Start of the ten bytes of the ISO date. */
    public int dateStart(int row) {
        return dateStart[row];
    }

    /** The day, in days since 1970-01-01. */
    public int epochDay(int row) {
        return epochDay[row];
    }

    /** The side, 0 = none, else its ordinal + 1. */
    public int side(int row) {
        return side[row];
    }

    /** Makes room for one more row and gives its position. */
    int next() {
        if (rows == line.length) {
            int size = rows * 2;
            line = Arrays.copyOf(line, size);
            patientStart = Arrays.copyOf(patientStart, size);
            patientEnd = Arrays.copyOf(patientEnd, size);
            episodeStart = Arrays.copyOf(episodeStart, size);
            episodeEnd = Arrays.copyOf(episodeEnd, size);
            dateStart = Arrays.copyOf(dateStart, size);
            epochDay = Arrays.copyOf(epochDay, size);
            side = Arrays.copyOf(side, size);
            odd = Arrays.copyOf(odd, size);
            values = Arrays.copyOf(values, size * width);
            Arrays.fill(values, rows * width, values.length, NOT_ANSWERED);
        }
        return rows;
    }

    void addPlain(int patientFrom, int patientTo, int episodeFrom, int episodeTo, int dateFrom, int day, int sideCode) {
        int row = rows;
        line[row] = text.lines();
        odd[row] = -1;
        patientStart[row] = patientFrom;
        patientEnd[row] = patientTo;
        episodeStart[row] = episodeFrom;
        episodeEnd[row] = episodeTo;
        dateStart[row] = dateFrom;
        epochDay[row] = day;
        side[row] = (byte) sideCode;
        rows = row + 1;
    }

    void addOdd(SittingRow row) {
        line[rows] = text.lines();
        odd[rows] = oddRows.size();
        oddRows.add(row);
        rows++;
    }

    void reject() {
        rejected++;
    }
}
