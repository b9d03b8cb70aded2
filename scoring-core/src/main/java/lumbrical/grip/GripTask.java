package lumbrical.grip;

/**
 * An answered item that is one grip.
 *
 * @param column where the answer stands, as {@code instrument_item}
 * @param topic the item's short label
 * @param difficulty 0 (its best code) to 100 (its worst)
 */
public record GripTask(String column, String topic, double difficulty) {
    // Equality written out: the one a record is given is put together at run time, and every start would pay for it.

    @Override
    public boolean equals(Object other) {
        return other instanceof GripTask task
                && Double.compare(difficulty, task.difficulty) == 0
                && column.equals(task.column)
                && topic.equals(task.topic);
    }

    @Override
    public int hashCode() {
        return 31 * (31 * column.hashCode() + topic.hashCode()) + Double.hashCode(difficulty);
    }
}
