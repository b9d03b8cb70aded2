package lumbrical.fastpath;

import java.nio.charset.StandardCharsets;
import java.util.List;
import java.util.Optional;
import lumbrical.columns.ScoreColumns;
import lumbrical.columns.ScoreRow;
import lumbrical.instrument.Instrument;
import lumbrical.instrument.Side;
import lumbrical.output.CsvTableWriter;
import lumbrical.output.OutputColumn;
import lumbrical.output.OutputTable;
import lumbrical.scoring.ScoreResult;
import lumbrical.sitting.ScoredForm;

/**
 * Prints the score rows of forms as the score table does. A form has few different results, so what a row says of the result is printed
 * once and kept. Not safe to share between threads.
 */
final class ScoreRowPrinter {
    private static final int BITS = 12;
    private static final long SPREAD = 0x9E3779B97F4A7C15L;
    private static final int LINE_BREAK = 2;

    private static final OutputTable<ScoreRow> OF_SITTING = part(0, ScoreColumns.OF_SITTING);
    private static final OutputTable<ScoreRow> OF_RESULT =
            part(ScoreColumns.OF_SITTING, ScoreColumns.TABLE.columns().size());

    private final boolean guard;
    private final Tail[] tails = new Tail[1 << BITS];

    /** What a row says of a result. */
    private record Tail(Instrument instrument, ScoreResult result, byte[] bytes) {
        private boolean isOf(Instrument other, ScoreResult its) {
            return instrument.equals(other) && same(result, its);
        }
    }

    /** @param guard whether texts that look like formulas get an apostrophe */
    ScoreRowPrinter(boolean guard) {
        this.guard = guard;
    }

    private static OutputTable<ScoreRow> part(int from, int to) {
        List<OutputColumn<ScoreRow>> columns = ScoreColumns.TABLE.columns();
        return new OutputTable<>(ScoreColumns.TABLE.name(), columns.subList(from, to));
    }

    /** Appends the score rows of {@code form}. */
    void print(ScoredForm form, ByteRow out) {
        Optional<Side> side = Optional.empty();
        int head = -1;
        int headEnd = 0;
        for (ScoreResult result : form.results()) {
            Optional<Side> hand = result.hand();
            if (head < 0 || !hand.equals(side)) {
                side = hand;
                head = out.length();
                out.append(printed(OF_SITTING, ScoreRow.of(form, result)));
                out.append(',');
                headEnd = out.length();
            } else {
                out.append(out.bytes(), head, headEnd);
            }
            out.append(tail(form, result));
        }
    }

    private CharSequence printed(OutputTable<ScoreRow> part, ScoreRow row) {
        StringBuilder text = new StringBuilder();
        CsvTableWriter<ScoreRow> csv = CsvTableWriter.withoutHeader(part, text, guard);
        csv.write(row);
        csv.flush();
        text.setLength(text.length() - LINE_BREAK);
        return text;
    }

    private byte[] tail(ScoredForm form, ScoreResult result) {
        int slot = (int) (hash(result) * SPREAD >>> Long.SIZE - BITS);
        Tail kept = tails[slot];
        if (kept != null && kept.isOf(form.instrument(), result)) {
            return kept.bytes();
        }
        String text = printed(OF_RESULT, ScoreRow.of(form, result)) + "\r\n";
        byte[] bytes = text.getBytes(StandardCharsets.UTF_8);
        tails[slot] = new Tail(form.instrument(), result, bytes);
        return bytes;
    }

    private static long hash(ScoreResult result) {
        long value = result instanceof ScoreResult.Scored scored ? Double.doubleToLongBits(scored.value()) : 0;
        return (value * 31 + result.scale().hashCode()) * 31 + result.answered();
    }

    // Written out: the equality that a record is given is put together at run time, and every start would pay.
    private static boolean same(ScoreResult one, ScoreResult other) {
        return one.scale().equals(other.scale())
                && one.hand().equals(other.hand())
                && one.items() == other.items()
                && one.answered() == other.answered()
                && one.reason().equals(other.reason())
                && one.bounds().equals(other.bounds())
                && (one instanceof ScoreResult.Scored scored
                        ? other instanceof ScoreResult.Scored its && sameScore(scored, its)
                        : other instanceof ScoreResult.NotScored);
    }

    private static boolean sameScore(ScoreResult.Scored one, ScoreResult.Scored other) {
        return Double.compare(one.value(), other.value()) == 0
                && Double.compare(standardError(one), standardError(other)) == 0;
    }

    private static double standardError(ScoreResult.Scored score) {
        return score.precision().map(ScoreResult.Precision::standardError).orElse(-1.0);
    }
}
