package lumbrical.grip;

import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
import lumbrical.instrument.Column;
import lumbrical.instrument.Grip;
import lumbrical.instrument.Side;
import lumbrical.sitting.ScoredForm;
import lumbrical.sitting.Sitting;

/**
 * Gathers the items that plainly are one grip, over all forms of a sitting. Each answered item is put on 0 to 100 from its best
 * to its worst code and the mean is taken: our convention, no published scale.
 */
public final class GripProfile {
    private GripProfile() {}

    /**
     * The profile of one sitting: items asked of a hand by hand, then items asked of the person; a grip without an answer is
     * left out, and so is a form without any answer.
     *
     * @param forms the forms of one sitting
     */
    public static List<GripRow> of(List<ScoredForm> forms) {
        List<ScoredForm> answered =
                forms.stream().filter(f -> !f.responses().blank()).toList();
        List<GripRow> rows = new ArrayList<>();
        for (Optional<Side> hand : List.of(Optional.of(Side.RIGHT), Optional.of(Side.LEFT), Optional.<Side>empty())) {
            for (Grip grip : Grip.values()) {
                row(answered, hand, grip).ifPresent(rows::add);
            }
        }
        return rows;
    }

    private static Optional<GripRow> row(List<ScoredForm> forms, Optional<Side> hand, Grip grip) {
        int items = 0;
        double sum = 0;
        List<GripTask> tasks = new ArrayList<>();
        for (ScoredForm form : forms) {
            for (Column column : form.instrument().columns()) {
                if (!column.hand().equals(hand) || !column.item().grip().equals(Optional.of(grip))) {
                    continue;
                }
                items++;
                OptionalDouble response = form.responses().allowed(column);
                if (response.isPresent()) {
                    double difficulty = column.item().difficulty(response.getAsDouble());
                    sum += difficulty;
                    tasks.add(new GripTask(
                            form.instrument().id() + "_" + column.item().id(),
                            column.item().topic(),
                            difficulty));
                }
            }
        }
        if (tasks.isEmpty()) {
            return Optional.empty();
        }
        Sitting sitting = forms.get(0).sitting();
        return Optional.of(new GripRow(
                sitting,
                sitting.episode(),
                Optional.empty(),
                hand,
                grip,
                sum / tasks.size(),
                items,
                tasks.size(),
                tasks));
    }
}
