package lumbrical.followup;

import java.time.LocalDate;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.EnumSet;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalInt;
import java.util.Set;
import lumbrical.instrument.InstrumentId;

/** Whom to call: who is due, late, or sent a form that cannot be scored; soonest closing first. */
public final class CallList {
    private CallList() {}

    /**
     * Which rows are wanted.
     *
     * @param states these states, whenever; empty = open, late, and incomplete while the window is open
     * @param from no row with an earlier target day
     * @param to no row with a later target day
     * @param next also rows not yet open that open within so many days
     */
    public record Selection(
            Set<ExpectedForm.State> states, Optional<LocalDate> from, Optional<LocalDate> to, OptionalInt next) {
        /** Copies the set. */
        public Selection {
            states = Set.copyOf(states);
        }

        /** Whom to call now. */
        public static final Selection NOW =
                new Selection(Set.of(), Optional.empty(), Optional.empty(), OptionalInt.empty());

        /** Every row, whatever its state. */
        public static final Selection ALL = new Selection(
                EnumSet.allOf(ExpectedForm.State.class), Optional.empty(), Optional.empty(), OptionalInt.empty());

        private boolean wants(CallRow row, LocalDate asOf) {
            return (inState(row, asOf) || soon(row, asOf))
                    && from.filter(day -> row.target().isBefore(day)).isEmpty()
                    && to.filter(day -> row.target().isAfter(day)).isEmpty();
        }

        private boolean inState(CallRow row, LocalDate asOf) {
            if (!states.isEmpty()) {
                return states.contains(row.state());
            }
            return switch (row.state()) {
                case OPEN, LATE -> true;
                case INCOMPLETE -> !asOf.isAfter(row.closes());
                case DONE, CLOSED, NOT_YET, MISSED -> false;
            };
        }

        private boolean soon(CallRow row, LocalDate asOf) {
            return row.state() == ExpectedForm.State.NOT_YET
                    && next.isPresent()
                    && !row.opens().isAfter(asOf.plusDays(next.getAsInt()));
        }
    }

    /** The rows that {@code selection} wants, soonest closing first, then by the order of the episodes. */
    public static List<CallRow> of(FollowUpResult clinic, Selection selection) {
        List<CallRow> rows = new ArrayList<>();
        for (EpisodeFollowUp episode : clinic.episodes()) {
            Map<String, Map<ExpectedForm.State, List<ExpectedForm>>> alike = new LinkedHashMap<>();
            episode.expected()
                    .forEach(form -> alike.computeIfAbsent(form.visit().name(), v -> new LinkedHashMap<>())
                            .computeIfAbsent(form.state(), s -> new ArrayList<>(4))
                            .add(form));
            alike.values().stream()
                    .flatMap(states -> states.values().stream())
                    .map(CallList::row)
                    .filter(row -> selection.wants(row, clinic.asOf()))
                    .forEach(rows::add);
        }
        rows.sort(Comparator.comparing(CallRow::closes));
        return List.copyOf(rows);
    }

    private static CallRow row(List<ExpectedForm> forms) {
        ExpectedForm any = forms.get(0);
        List<InstrumentId> ids = forms.stream().map(ExpectedForm::instrument).toList();
        return new CallRow(
                any.episode(), any.visit(), any.opens(), any.target(), any.closes(), any.state(), ids, any.daysLeft());
    }
}
