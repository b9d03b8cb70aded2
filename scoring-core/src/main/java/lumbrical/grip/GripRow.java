package lumbrical.grip;

import java.util.List;
import java.util.Optional;
import lumbrical.instrument.Grip;
import lumbrical.instrument.Side;
import lumbrical.sitting.Sitting;

/**
 * One grip at one sitting.
 *
 * @param sitting who, when
 * @param episode the episode's id, if known
 * @param visit the visit's name, if placed in time
 * @param hand the hand asked about; empty for items asked of the person
 * @param grip the grip
 * @param difficulty 0 (none) to 100 (cannot do), mean of the answered items
 * @param items items with this grip on the forms of the sitting
 * @param answered how many of them were answered, at least 1
 * @param tasks the items answered, in the order of the forms
 */
public record GripRow(
        Sitting sitting,
        Optional<String> episode,
        Optional<String> visit,
        Optional<Side> hand,
        Grip grip,
        double difficulty,
        int items,
        int answered,
        List<GripTask> tasks) {
    /** Copies the list. */
    public GripRow {
        tasks = List.copyOf(tasks);
    }

    /** The items answered, as {@code instrument_item}. */
    public List<String> from() {
        return tasks.stream().map(GripTask::column).toList();
    }

    /** The same row with its place in time. */
    public GripRow placed(Optional<String> inEpisode, Optional<String> atVisit) {
        return new GripRow(sitting, inEpisode, atVisit, hand, grip, difficulty, items, answered, tasks);
    }
}
