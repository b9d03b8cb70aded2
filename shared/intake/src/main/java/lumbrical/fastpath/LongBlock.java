package lumbrical.fastpath;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import lumbrical.intake.LongColumn;
import lumbrical.intake.WideRows;

/**
 * Some rows of a plain long table. Rows of one sitting that follow each other are a run. A row that holds anything out of the ordinary
 * stands as its texts, to be read when its turn has come, as every other reader reads it. A block is filled again and again.
 */
final class LongBlock implements TableBlock {
    private static final int EXPECTED_ROWS = 4_096;
    private static final int EXPECTED_RUNS = 512;
    private static final int ODD = -1;

    private final BlockBytes text;
    private int rows;
    private int[] line = new int[EXPECTED_ROWS];
    private int[] run = new int[EXPECTED_ROWS];
    private LongColumn[] column = new LongColumn[EXPECTED_ROWS];
    /** The response's code, or for an odd row its position among them. */
    private int[] code = new int[EXPECTED_ROWS];

    private final List<OddRow> oddRows = new ArrayList<>();
    private int runs;
    private int[] patientStart = new int[EXPECTED_RUNS];
    private int[] patientEnd = new int[EXPECTED_RUNS];
    private int[] episodeStart = new int[EXPECTED_RUNS];
    private int[] episodeEnd = new int[EXPECTED_RUNS];
    private int[] epochDay = new int[EXPECTED_RUNS];
    private byte[] side = new byte[EXPECTED_RUNS];

    /**
     * A row out of the ordinary.
     *
     * @param cells its texts
     * @param end how it ends
     */
    record OddRow(List<String> cells, WideRows.RowEnd end) {}

    /** @param capacity number of bytes it takes */
    LongBlock(int capacity) {
        this.text = new BlockBytes(capacity);
    }

    /** Forgets the rows of the last use; the bytes from 0 to {@code to} are now whole rows. */
    void clear(int to) {
        text.clear(to);
        rows = 0;
        runs = 0;
        oddRows.clear();
    }

    @Override
    public BlockBytes text() {
        return text;
    }

    int rows() {
        return rows;
    }

    /** The number of a row as a spreadsheet shows it; known once the block's turn has come. */
    int number(int row) {
        return text.firstRow() + line[row];
    }

    boolean isOdd(int row) {
        return run[row] == ODD;
    }

    /** The texts of an odd row. */
    OddRow oddRow(int row) {
        return oddRows.get(code[row]);
    }

    /** The run that a plain row belongs to; runs are numbered from 0 in their order. */
    int run(int row) {
        return run[row];
    }

    /** What a plain row answers. */
    LongColumn column(int row) {
        return column[row];
    }

    /** The code of a plain row's response, {@link PlainCells#BLANK} if it is blank. */
    int code(int row) {
        return code[row];
    }

    /** Start of the patient's id of a run. */
    int patientStart(int ofRun) {
        return patientStart[ofRun];
    }

    int patientEnd(int ofRun) {
        return patientEnd[ofRun];
    }

    /** Start of the episode's id of a run. */
    int episodeStart(int ofRun) {
        return episodeStart[ofRun];
    }

    /** End of the episode's id; equal to the start if there is none. */
    int episodeEnd(int ofRun) {
        return episodeEnd[ofRun];
    }

    /** The day of a run, in days since 1970-01-01. */
    int epochDay(int ofRun) {
        return epochDay[ofRun];
    }

    /** The side of a run, 0 = none, else its ordinal + 1. */
    int side(int ofRun) {
        return side[ofRun];
    }

    /** Whether the last run is of this patient, episode, day and side, by the bytes. */
    boolean goesOn(int patientFrom, int patientTo, int episodeFrom, int episodeTo, int day, int sideCode) {
        int last = runs - 1;
        return last >= 0
                && epochDay[last] == day
                && side[last] == sideCode
                && same(patientStart[last], patientEnd[last], patientFrom, patientTo)
                && same(episodeStart[last], episodeEnd[last], episodeFrom, episodeTo);
    }

    private boolean same(int from, int to, int otherFrom, int otherTo) {
        return Arrays.equals(text.bytes(), from, to, text.bytes(), otherFrom, otherTo);
    }

    void beginRun(int patientFrom, int patientTo, int episodeFrom, int episodeTo, int day, int sideCode) {
        if (runs == side.length) {
            int size = runs * 2;
            patientStart = Arrays.copyOf(patientStart, size);
            patientEnd = Arrays.copyOf(patientEnd, size);
            episodeStart = Arrays.copyOf(episodeStart, size);
            episodeEnd = Arrays.copyOf(episodeEnd, size);
            epochDay = Arrays.copyOf(epochDay, size);
            side = Arrays.copyOf(side, size);
        }
        patientStart[runs] = patientFrom;
        patientEnd[runs] = patientTo;
        episodeStart[runs] = episodeFrom;
        episodeEnd[runs] = episodeTo;
        epochDay[runs] = day;
        side[runs] = (byte) sideCode;
        runs++;
    }

    /** Adds a row of the last run. */
    void addPlain(LongColumn answered, int response) {
        ensureRoom();
        column[rows] = answered;
        add(runs - 1, response);
    }

    void addOdd(OddRow row) {
        ensureRoom();
        add(ODD, oddRows.size());
        oddRows.add(row);
    }

    private void add(int ofRun, int value) {
        line[rows] = text.lines();
        run[rows] = ofRun;
        code[rows] = value;
        rows++;
    }

    private void ensureRoom() {
        if (rows == line.length) {
            int size = rows * 2;
            line = Arrays.copyOf(line, size);
            run = Arrays.copyOf(run, size);
            code = Arrays.copyOf(code, size);
            column = Arrays.copyOf(column, size);
        }
    }
}
