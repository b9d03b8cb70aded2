package lumbrical.fastpath;

import java.nio.charset.StandardCharsets;
import java.util.Arrays;
import lumbrical.scoring.Reason;
import lumbrical.scoring.ScoreBuffer;
import lumbrical.scoring.ScoreResult;

/**
 * Prints what follows the date in a score row. A form has few different scores, so printed tails are kept and copied. Not safe to
 * share between threads.
 */
final class TailCache {
    private static final int SLOTS = 1 << 9;
    private static final byte[] LINE_END = ascii("\r\n");
    private static final byte[] NO_PRECISION = ascii(",,,\r\n");
    private static final byte[][] OUTCOMES = Arrays.stream(ScoreResult.Outcome.values())
            .map(o -> ascii(o.code()))
            .toArray(byte[][]::new);
    private static final byte[][] REASONS =
            Arrays.stream(Reason.values()).map(r -> ascii(r.code())).toArray(byte[][]::new);

    private final byte[][] heads;
    private final byte[][] ends;
    private final Entry[] entries = new Entry[SLOTS];

    private record Entry(
            int output,
            int outcome,
            int reason,
            long value,
            long low,
            long high,
            int items,
            int answered,
            byte[] bytes) {}

    /**
     * @param heads for each output, what stands between date and score
     * @param ends for each output, direction and definition
     */
    TailCache(byte[][] heads, byte[][] ends) {
        this.heads = heads;
        this.ends = ends;
    }

    private static byte[] ascii(String text) {
        return text.getBytes(StandardCharsets.US_ASCII);
    }

    /** Appends the tail of the row that {@code slot} of {@code buffer} gives. */
    void append(int output, int slot, ScoreBuffer buffer, ByteRow out) {
        int outcome = buffer.outcome(slot).ordinal();
        boolean scored = buffer.isScored(slot);
        int reason = scored ? -1 : buffer.reason(slot).ordinal();
        long value = scored ? Double.doubleToRawLongBits(buffer.value(slot)) : 0;
        long low = Double.doubleToRawLongBits(buffer.hasBounds(slot) ? buffer.low(slot) : Double.NaN);
        long high = Double.doubleToRawLongBits(buffer.hasBounds(slot) ? buffer.high(slot) : Double.NaN);
        long mixed = (value * 31 + low) * 31 + high + output * 7L + buffer.answered(slot);
        mixed *= 0x9E3779B97F4A7C15L;
        int at = (int) (mixed >>> 64 - 9);
        Entry entry = entries[at];
        if (entry != null
                && entry.output == output
                && entry.value == value
                && entry.low == low
                && entry.high == high
                && entry.outcome == outcome
                && entry.reason == reason
                && entry.items == buffer.items(slot)
                && entry.answered == buffer.answered(slot)) {
            out.append(entry.bytes);
            return;
        }
        int start = out.length();
        print(output, slot, buffer, out);
        byte[] printed = Arrays.copyOfRange(out.bytes(), start, out.length());
        entries[at] = new Entry(
                output, outcome, reason, value, low, high, buffer.items(slot), buffer.answered(slot), printed);
    }

    private void print(int output, int slot, ScoreBuffer buffer, ByteRow out) {
        out.append(heads[output]);
        boolean scored = buffer.isScored(slot);
        if (scored) {
            out.append(buffer.value(slot));
        }
        out.append(',');
        out.append(OUTCOMES[buffer.outcome(slot).ordinal()]);
        out.append(',');
        if (!scored) {
            out.append(REASONS[buffer.reason(slot).ordinal()]);
        }
        out.append(',');
        out.append((double) buffer.items(slot));
        out.append(',');
        out.append((double) buffer.answered(slot));
        out.append(',');
        if (buffer.hasBounds(slot)) {
            out.append(buffer.low(slot));
            out.append(',');
            out.append(buffer.high(slot));
        } else {
            out.append(',');
        }
        out.append(ends[output]);
        if (buffer.hasStandardError(slot)) {
            ScoreResult.Precision precision = new ScoreResult.Precision(buffer.standardError(slot));
            out.append(',');
            out.append(precision.standardError());
            out.append(',');
            out.append(precision.interval95(buffer.value(slot)).low());
            out.append(',');
            out.append(precision.interval95(buffer.value(slot)).high());
            out.append(LINE_END);
        } else {
            out.append(NO_PRECISION);
        }
    }
}
