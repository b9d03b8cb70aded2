package lumbrical.intake;

import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.stream.Collectors;
import lumbrical.instrument.Column;
import lumbrical.instrument.Composition;
import lumbrical.instrument.Instrument;
import lumbrical.instrument.Scale;
import lumbrical.instrument.Side;
import lumbrical.problem.Place;
import lumbrical.problem.Problem;
import lumbrical.problem.ProblemCode;
import lumbrical.problem.Remedy;

/** Items that a file asks of nobody, while it asks others of the same scale. */
final class MissingColumns {
    private MissingColumns() {}

    /** A note for each scale of which a file has some columns and not all. */
    static List<Problem> notes(ResponseHeader.Form form, Place header) {
        List<Problem> notes = new ArrayList<>();
        Instrument instrument = form.instrument();
        for (Scale scale : instrument.scales()) {
            scale.composition().fromItems().ifPresent(made -> {
                List<Optional<Side>> hands = instrument.perHand(scale)
                        ? List.of(Optional.of(Side.RIGHT), Optional.of(Side.LEFT))
                        : List.of(Optional.empty());
                hands.forEach(hand -> note(form, scale, made, hand, header).ifPresent(notes::add));
            });
        }
        return notes;
    }

    private static Optional<Problem> note(
            ResponseHeader.Form form, Scale scale, Composition.FromItems made, Optional<Side> hand, Place header) {
        Instrument instrument = form.instrument();
        List<Column> columns = made.items().stream()
                .map(i -> instrument.column(i.item(), hand))
                .toList();
        List<Column> lacking =
                columns.stream().filter(c -> form.positions()[c.index()] < 0).toList();
        boolean ofThisHand = columns.stream().anyMatch(c -> c.hand().equals(hand) && form.positions()[c.index()] >= 0);
        if (lacking.isEmpty() || !ofThisHand || made.missing().ratedOnly()) {
            return Optional.empty();
        }
        int items = columns.size();
        int there = items - lacking.size();
        int required = made.missing().required(items, false);
        String effect = there < required
                ? " can never be scored: " + required + " of its " + items + " items are needed, and the file has "
                        + there + "."
                : " is scored with " + there + " of its " + items
                        + " items at most, and every form counts as having unanswered ones.";
        return Optional.of(new Problem(
                        header,
                        "",
                        ProblemCode.NOTE_ITEM_NEVER_ASKED,
                        "The file has no column "
                                + lacking.stream().map(Column::name).collect(Collectors.joining(", ")) + ", so "
                                + instrument.id() + " " + scale.id()
                                + hand.map(h -> " (" + h.code() + ")").orElse("") + effect)
                .mendedBy(Remedy.of(Remedy.Kind.MAP_HEADINGS)));
    }
}
