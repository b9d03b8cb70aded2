package lumbrical.grip;

/**
 * An answered item that is one grip.
 *
 * @param column where the answer stands, as {@code instrument_item}
 * @param topic the item's short label
 * @param difficulty 0 (its best code) to 100 (its worst)
 */
public record GripTask(String column, String topic, double difficulty) {}
