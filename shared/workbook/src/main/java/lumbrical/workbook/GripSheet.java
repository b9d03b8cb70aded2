package lumbrical.workbook;

import java.util.ArrayList;
import java.util.Comparator;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.stream.Collectors;
import java.util.stream.Stream;
import lumbrical.columns.GripColumns;
import lumbrical.followup.Episode;
import lumbrical.followup.EpisodeFollowUp;
import lumbrical.followup.FollowUpResult;
import lumbrical.grip.GripRow;
import lumbrical.grip.GripTask;
import lumbrical.instrument.Side;
import lumbrical.number.Figures;
import lumbrical.number.Memo;
import lumbrical.output.OutputColumn;
import lumbrical.output.OutputTable;
import lumbrical.output.Value;

/**
 * The sheet of grips: the treated and the other hand side by side in the words of the tasks. Within a visit the hardest grip of the
 * treated hand comes first, then the same grip of the other hand, then what was asked of the person.
 */
final class GripSheet {
    private static final Figures SHOWN = new Figures(0);
    /** The same answers come again and again. */
    private static final Memo<List<GripTask>, Value> TASKS = new Memo<>(12, tasks -> Value.word(words(tasks)));

    static final OutputTable<Line> TABLE = new OutputTable<>(GripColumns.TABLE.name(), columns());

    private static final Layout LAYOUT = Layout.of(3)
            .width(Map.of("visit", 14, "from", 44, "hand", 9, "treated_hand", 14, "other_hand", 12, "tasks", 70))
            .wrap("tasks");

    /**
     * A row with its counterpart of the other hand.
     *
     * @param of whose hand it is; empty for items asked of the person and where the treated side is not known
     * @param counterpart the same grip of the other hand at the same sitting; empty where both hands are treated
     */
    record Line(GripRow row, Optional<Hand> of, Optional<GripRow> counterpart) {
        private Optional<GripRow> row(Hand hand) {
            return of.flatMap(own -> own == hand ? Optional.of(row) : counterpart);
        }

        /** How hard the grip is for the treated hand, else for whom it is known. */
        private double hardness() {
            return row(Hand.TREATED).orElse(row).difficulty();
        }
    }

    enum Hand {
        TREATED("treated"),
        OTHER("other");

        private final String word;

        Hand(String word) {
            this.word = word;
        }
    }

    private GripSheet() {}

    static void write(StreamingWorkbook book, FollowUpResult clinic) {
        Map<Episode.Key, Side> treated = treatedSides(clinic);
        TableSheet.write(book, TABLE, LAYOUT, sittings(clinic.grips()), rows -> ofSitting(rows, treated));
    }

    /** In the order of the patients; within a sitting by hand and hardness. */
    static Stream<Line> lines(FollowUpResult clinic) {
        Map<Episode.Key, Side> treated = treatedSides(clinic);
        return sittings(clinic.grips()).stream().flatMap(rows -> ofSitting(rows, treated));
    }

    private static Map<Episode.Key, Side> treatedSides(FollowUpResult clinic) {
        Map<Episode.Key, Side> treated = new HashMap<>();
        for (EpisodeFollowUp each : clinic.episodes()) {
            Episode episode = each.episode();
            treated.put(episode.key(), episode.treatedSide());
        }
        return treated;
    }

    /** The rows of each sitting, which stand together. */
    private static List<List<GripRow>> sittings(List<GripRow> rows) {
        List<List<GripRow>> sittings = new ArrayList<>();
        int begin = 0;
        for (int end = 1; end <= rows.size(); end++) {
            if (end == rows.size()
                    || !rows.get(end)
                            .sitting()
                            .key()
                            .equals(rows.get(begin).sitting().key())) {
                sittings.add(rows.subList(begin, end));
                begin = end;
            }
        }
        return sittings;
    }

    private static Stream<Line> ofSitting(List<GripRow> rows, Map<Episode.Key, Side> treated) {
        return rows.stream()
                .map(row -> {
                    Optional<Side> side = row.episode()
                            .flatMap(e -> Optional.ofNullable(
                                    treated.get(new Episode.Key(row.sitting().patient(), e))));
                    return new Line(
                            row,
                            row.hand().flatMap(hand -> side.map(s -> s.includes(hand) ? Hand.TREATED : Hand.OTHER)),
                            side.filter(s -> s != Side.BOTH).flatMap(s -> ofOtherHand(row, rows)));
                })
                .sorted(Comparator.comparing((Line l) -> l.row().episode().orElse(""))
                        .thenComparing(l -> l.row().hand().isEmpty())
                        .thenComparing(
                                Comparator.comparingDouble(Line::hardness).reversed())
                        .thenComparing(l -> l.row().grip())
                        .thenComparing(l -> l.of().map(Hand::ordinal).orElse(0)));
    }

    /** The same grip of the other hand. */
    private static Optional<GripRow> ofOtherHand(GripRow row, List<GripRow> ofSitting) {
        return row.hand().isEmpty()
                ? Optional.empty()
                : ofSitting.stream()
                        .filter(r -> r.grip() == row.grip()
                                && r.hand().isPresent()
                                && !r.hand().equals(row.hand())
                                && r.episode().equals(row.episode())
                                && r.visit().equals(row.visit()))
                        .findFirst();
    }

    private static List<OutputColumn<Line>> columns() {
        List<OutputColumn<Line>> columns = new ArrayList<>();
        for (OutputColumn<GripRow> column : GripColumns.TABLE.columns()) {
            columns.add(new OutputColumn<>(column.name(), column.meaning(), column.kind(), line -> column.of()
                    .apply(line.row())));
        }
        columns.add(OutputColumn.text(
                "hand",
                "treated or other hand of the episode; blank for items asked of the person",
                l -> Value.word(l.of().map(h -> h.word))));
        columns.add(OutputColumn.number(
                "treated_hand",
                "Difficulty of this grip for the treated hand on this day",
                l -> difficulty(l.row(Hand.TREATED))));
        columns.add(OutputColumn.number(
                "other_hand",
                "Difficulty of this grip for the other hand on this day",
                l -> difficulty(l.row(Hand.OTHER))));
        columns.add(OutputColumn.text(
                "tasks",
                "The tasks behind it in words, hardest first, each with its own difficulty from 0 to 100",
                l -> TASKS.of(l.row().tasks())));
        return columns;
    }

    private static Value difficulty(Optional<GripRow> row) {
        return row.map(r -> Value.number(r.difficulty())).orElse(Value.BLANK);
    }

    static String words(List<GripTask> tasks) {
        return tasks.stream()
                .sorted(Comparator.comparingDouble(GripTask::difficulty).reversed())
                .map(t -> t.topic() + " " + SHOWN.plain(t.difficulty()))
                .collect(Collectors.joining(", "));
    }
}
