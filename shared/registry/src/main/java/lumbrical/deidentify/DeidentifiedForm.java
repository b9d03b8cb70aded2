package lumbrical.deidentify;

import java.util.Collections;
import java.util.EnumSet;
import java.util.HashSet;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import lumbrical.followup.Visit;
import lumbrical.instrument.Column;
import lumbrical.instrument.Instrument;
import lumbrical.instrument.Side;
import lumbrical.scoring.Responses;

/**
 * One instrument of one sitting, without anything that names the person.
 *
 * @param key stays the same when the form is sent again, corrected or not; see {@link Pseudonyms#form}
 * @param instrument the instrument
 * @param responses what was answered
 * @param day when
 * @param side the side written on the form
 * @param visit the visit whose window holds the day; empty = unscheduled
 * @param attributes values that the profile lets through ({@code mode}, {@code respondent}, {@code language}), by column
 * @param scores the scores, in the order of the definition
 * @param handsHeldBack the hands of which nothing leaves, whether or not anything was answered about them
 */
public record DeidentifiedForm(
        String key,
        Instrument instrument,
        Responses responses,
        DeidentifiedDay day,
        Optional<Side> side,
        Optional<Visit> visit,
        Map<String, String> attributes,
        List<DeidentifiedScore> scores,
        Set<Side> handsHeldBack) {
    /** Copies the collections. */
    public DeidentifiedForm {
        attributes = Collections.unmodifiableMap(new LinkedHashMap<>(attributes));
        scores = List.copyOf(scores);
        handsHeldBack = Collections.unmodifiableSet(
                handsHeldBack.isEmpty() ? EnumSet.noneOf(Side.class) : EnumSet.copyOf(handsHeldBack));
    }

    /** Whether the column asks about a hand of which nothing leaves. */
    public boolean holdsBack(Column column) {
        return column.hand().filter(handsHeldBack::contains).isPresent();
    }

    /** The columns that the form was used for: a module, or a hand, of which nothing was answered is left out. */
    public List<Column> columnsUsed() {
        List<Column> all = instrument.columns();
        if (all.stream().allMatch(column -> Part.of(column).isWhole())) {
            return all;
        }
        Set<Part> answered = new HashSet<>();
        for (Column column : all) {
            if (responses.entered(column.index())) {
                answered.add(Part.of(column));
            }
        }
        return all.stream()
                .filter(column -> Part.of(column).isWhole() || answered.contains(Part.of(column)))
                .toList();
    }

    private record Part(Optional<String> module, Optional<Side> hand) {
        static Part of(Column column) {
            return new Part(column.item().module(), column.hand());
        }

        boolean isWhole() {
            return module.isEmpty() && hand.isEmpty();
        }
    }
}
