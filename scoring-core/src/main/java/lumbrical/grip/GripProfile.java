package lumbrical.grip;

import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.TreeMap;
import java.util.concurrent.ConcurrentHashMap;
import java.util.function.Function;
import lumbrical.instrument.Column;
import lumbrical.instrument.Grip;
import lumbrical.instrument.Instrument;
import lumbrical.instrument.Side;
import lumbrical.number.Memo;
import lumbrical.sitting.ScoredForm;
import lumbrical.sitting.Sitting;

/**
 * Gathers the items that plainly are one grip, over all forms of a sitting. Each answered item is put on 0 to 100 from its best
 * to its worst code and the mean is taken: our convention, no published scale. One object serves many sittings and looks through an
 * instrument once; threads may share it.
 */
public final class GripProfile {
    /** The hands asked about, in the order of the rows; last the items asked of the person. */
    private static final List<Optional<Side>> HANDS =
            List.of(Optional.of(Side.RIGHT), Optional.of(Side.LEFT), Optional.empty());

    private final Map<Instrument, List<GripItem>> items = new ConcurrentHashMap<>();
    /** The same answers come again and again. */
    private final Memo<GripTask, GripTask> tasks = new Memo<>(12, Function.identity());

    private final Memo<List<GripTask>, List<GripTask>> answers = new Memo<>(14, Function.identity());

    /** Profiles of the sittings of a clinic, one after the other. */
    public GripProfile() {}

    /** A column whose item is a grip. */
    private record GripItem(Column column, int hand, Grip grip, String name) {}

    /** The items of one grip and hand so far. */
    private static final class Tally {
        private final List<GripTask> tasks = new ArrayList<>(2);
        private int items;
        private double sum;
    }

    /**
     * The profile of one sitting: items asked of a hand by hand, then items asked of the person; a grip without an answer is
     * left out, and so is a form without any answer.
     *
     * @param forms the forms of one sitting
     */
    public static List<GripRow> of(List<ScoredForm> forms) {
        return new GripProfile().ofSitting(forms);
    }

    /** As {@link #of(List)}. */
    public List<GripRow> ofSitting(List<ScoredForm> forms) {
        Map<Integer, Tally> tallies = new TreeMap<>();
        Optional<Sitting> sitting = Optional.empty();
        for (ScoredForm form : forms) {
            if (form.responses().blank()) {
                continue;
            }
            sitting = sitting.or(() -> Optional.of(form.sitting()));
            for (GripItem item : items.computeIfAbsent(form.instrument(), GripProfile::gripItems)) {
                Tally tally = tallies.computeIfAbsent(
                        item.hand() * Grip.values().length + item.grip().ordinal(), k -> new Tally());
                tally.items++;
                OptionalDouble response = form.responses().allowed(item.column().index());
                if (response.isPresent()) {
                    double difficulty = item.column().item().difficulty(response.getAsDouble());
                    tally.sum += difficulty;
                    tally.tasks.add(tasks.of(
                            new GripTask(item.name(), item.column().item().topic(), difficulty)));
                }
            }
        }
        List<GripRow> rows = new ArrayList<>(tallies.size());
        sitting.ifPresent(at -> tallies.forEach((place, tally) -> {
            if (!tally.tasks.isEmpty()) {
                rows.add(new GripRow(
                        at,
                        at.episode(),
                        Optional.empty(),
                        HANDS.get(place / Grip.values().length),
                        Grip.values()[place % Grip.values().length],
                        tally.sum / tally.tasks.size(),
                        tally.items,
                        tally.tasks.size(),
                        answers.of(List.copyOf(tally.tasks))));
            }
        }));
        return rows;
    }

    private static List<GripItem> gripItems(Instrument instrument) {
        return instrument.columns().stream()
                .flatMap(column -> column.item().grip().stream()
                        .map(grip -> new GripItem(
                                column,
                                HANDS.indexOf(column.hand()),
                                grip,
                                instrument.id() + "_" + column.item().id())))
                .toList();
    }
}
