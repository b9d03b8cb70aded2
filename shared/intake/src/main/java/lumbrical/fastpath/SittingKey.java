package lumbrical.fastpath;

import java.nio.ByteBuffer;
import java.nio.charset.StandardCharsets;
import java.time.LocalDate;
import java.time.LocalTime;
import java.util.List;
import java.util.Optional;
import java.util.stream.Stream;
import lumbrical.instrument.Side;
import lumbrical.problem.Place;
import lumbrical.sitting.Sitting;

/**
 * The bytes of what makes two rows one sitting, as {@link Sitting#key} says it: equal where that is equal, for a row of a table names no
 * identifier. Written again and again.
 */
final class SittingKey {
    /** Stands behind patient and episode. It is no byte of a UTF-8 text. */
    private static final byte END = (byte) 0xFF;

    /** Bytes behind them: the day, the time, the side. */
    private static final int REST = Long.BYTES + Long.BYTES + 1;

    private static final List<Optional<Side>> SIDES = Stream.concat(
                    Stream.of(Optional.<Side>empty()), Stream.of(Side.values()).map(Optional::of))
            .toList();

    private final ByteRow key = new ByteRow(1 << 8);
    private final byte[] end = {END};
    private final ByteBuffer rest = ByteBuffer.allocate(REST);

    byte[] bytes() {
        return key.bytes();
    }

    int length() {
        return key.length();
    }

    /** Writes the key of a plain run. */
    void write(LongBlock block, int run) {
        byte[] bytes = block.text().bytes();
        key.clear();
        key.append(bytes, block.patientStart(run), block.patientEnd(run));
        key.append(end);
        key.append(bytes, block.episodeStart(run), block.episodeEnd(run));
        write(block.epochDay(run), 0, block.side(run));
    }

    /** Writes the key of any row. */
    void write(Sitting sitting) {
        key.clear();
        key.append(sitting.patient());
        key.append(end);
        sitting.episode().ifPresent(key::append);
        write(
                sitting.completedOn().toEpochDay(),
                sitting.time().map(time -> time.toNanoOfDay() + 1).orElse(0L),
                sitting.side().map(side -> side.ordinal() + 1).orElse(0));
    }

    private void write(long epochDay, long time, int side) {
        key.append(end);
        rest.clear();
        key.append(rest.putLong(epochDay).putLong(time).put((byte) side).array());
    }

    /** The sitting that a key stands for. */
    static Sitting sitting(byte[] bytes, int from, int to, Place place) {
        int patientEnd = endOf(bytes, from);
        int episodeEnd = endOf(bytes, patientEnd + 1);
        ByteBuffer rest = ByteBuffer.wrap(bytes, episodeEnd + 1, to - episodeEnd - 1);
        LocalDate day = LocalDate.ofEpochDay(rest.getLong());
        long time = rest.getLong();
        return new Sitting(
                text(bytes, from, patientEnd),
                day,
                time == 0 ? Optional.empty() : Optional.of(LocalTime.ofNanoOfDay(time - 1)),
                SIDES.get(rest.get()),
                patientEnd + 1 == episodeEnd ? Optional.empty() : Optional.of(text(bytes, patientEnd + 1, episodeEnd)),
                Optional.empty(),
                Optional.empty(),
                Optional.empty(),
                place);
    }

    private static int endOf(byte[] bytes, int from) {
        int at = from;
        while (bytes[at] != END) {
            at++;
        }
        return at;
    }

    private static String text(byte[] bytes, int from, int to) {
        return new String(bytes, from, to - from, StandardCharsets.UTF_8);
    }
}
