package org.handoutcomes.table;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.Optional;
import org.handoutcomes.instrument.Side;
import org.handoutcomes.problem.Problem;

/**
 * Some rows of a plain wide table, parsed into flat arrays. A row that holds anything out of the ordinary stands as a {@link
 * SittingRow} instead, parsed as every other reader parses it.
 */
public final class RowBlock {
    private static final int EXPECTED_ROWS = 1_024;

    private final byte[] bytes;
    private final int width;
    private int rows;
    private double[] values;
    private int[] rowNumber = new int[EXPECTED_ROWS];
    private int[] patientStart = new int[EXPECTED_ROWS];
    private int[] patientEnd = new int[EXPECTED_ROWS];
    private int[] episodeStart = new int[EXPECTED_ROWS];
    private int[] episodeEnd = new int[EXPECTED_ROWS];
    private int[] dateStart = new int[EXPECTED_ROWS];
    private long[] epochDay = new long[EXPECTED_ROWS];
    private byte[] side = new byte[EXPECTED_ROWS];
    private final List<SittingRow> oddRows = new ArrayList<>();
    private int[] odd = new int[EXPECTED_ROWS];
    private final List<Problem> problems = new ArrayList<>();
    private int rejected;

    RowBlock(byte[] bytes, int width) {
        this.bytes = bytes;
        this.width = width;
        this.values = new double[EXPECTED_ROWS * width];
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
        return bytes;
    }

    /** The row's number as a spreadsheet shows it. */
    public int number(int row) {
        return rowNumber[row];
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
    public long epochDay(int row) {
        return epochDay[row];
    }

    /** The side, 0 = none, else its ordinal + 1. */
    public int side(int row) {
        return side[row];
    }

    /** The side as {@link Side}; empty if none. */
    public Optional<Side> sideOf(int row) {
        return side[row] == 0 ? Optional.empty() : Optional.of(Side.values()[side[row] - 1]);
    }

    /** Makes room for one more row and gives its position. */
    int next(int number) {
        if (rows == rowNumber.length) {
            int size = rows * 2;
            rowNumber = Arrays.copyOf(rowNumber, size);
            patientStart = Arrays.copyOf(patientStart, size);
            patientEnd = Arrays.copyOf(patientEnd, size);
            episodeStart = Arrays.copyOf(episodeStart, size);
            episodeEnd = Arrays.copyOf(episodeEnd, size);
            dateStart = Arrays.copyOf(dateStart, size);
            epochDay = Arrays.copyOf(epochDay, size);
            side = Arrays.copyOf(side, size);
            odd = Arrays.copyOf(odd, size);
            values = Arrays.copyOf(values, size * width);
        }
        rowNumber[rows] = number;
        odd[rows] = -1;
        return rows;
    }

    void addPlain(
            int patientFrom, int patientTo, int episodeFrom, int episodeTo, int dateFrom, long day, int sideCode) {
        patientStart[rows] = patientFrom;
        patientEnd[rows] = patientTo;
        episodeStart[rows] = episodeFrom;
        episodeEnd[rows] = episodeTo;
        dateStart[rows] = dateFrom;
        epochDay[rows] = day;
        side[rows] = (byte) sideCode;
        rows++;
    }

    void addOdd(SittingRow row) {
        odd[rows] = oddRows.size();
        oddRows.add(row);
        rows++;
    }

    void reject() {
        rejected++;
    }
}
