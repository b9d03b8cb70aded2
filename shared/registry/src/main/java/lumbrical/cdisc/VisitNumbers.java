package lumbrical.cdisc;

import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import java.util.OptionalInt;
import lumbrical.deidentify.DeidentifiedDay;
import lumbrical.deidentify.DeidentifiedEpisode;
import lumbrical.deidentify.DeidentifiedForm;
import lumbrical.followup.Schedule;
import lumbrical.followup.Visit;
import lumbrical.followup.VisitAssignment;

/**
 * Name and number of the visit of each form of an episode, the same in every dataset.
 *
 * <p>A visit of the schedule has its name and its place, from 1. An unscheduled one has the number of the last visit whose window lies
 * before it, and thousandths counted within the episode, so that it sorts between its neighbours: the second one after visit 3 is
 * {@code unscheduled 3.002}. That unscheduled visits get decimals is common practice, no source; thousandths are ours.
 */
final class VisitNumbers {
    private static final int MOST = 999;

    private final Schedule schedule;

    VisitNumbers(Schedule schedule) {
        this.schedule = schedule;
    }

    /**
     * A visit.
     *
     * @param name as in the schedule, or {@code unscheduled} and its number
     * @param number place in the schedule from 1, or between two places
     */
    record Numbered(String name, double number) {}

    /** The visits of the forms, in their order. Unscheduled forms of the same day or week, as it is sent, are one visit. */
    List<Numbered> of(DeidentifiedEpisode episode) {
        List<Numbered> visits = new ArrayList<>(episode.forms().size());
        int last = 0;
        int unscheduled = 0;
        Optional<DeidentifiedDay> before = Optional.empty();
        for (DeidentifiedForm form : episode.forms()) {
            if (form.visit().isPresent()) {
                int number = schedule.visits().indexOf(form.visit().get()) + 1;
                visits.add(new Numbered(form.visit().get().name(), number));
                continue;
            }
            int after = windowsBefore(form.day());
            if (after != last) {
                last = after;
                unscheduled = 0;
                before = Optional.empty();
            }
            if (!before.equals(Optional.of(form.day()))) {
                unscheduled = Math.min(MOST, unscheduled + 1);
                before = Optional.of(form.day());
            }
            String number = String.format(Locale.ROOT, "%d.%03d", last, unscheduled);
            visits.add(new Numbered(VisitAssignment.UNSCHEDULED + " " + number, Double.parseDouble(number)));
        }
        return visits;
    }

    /** Place of the last visit whose window ends before that day, or before the end of that week; 0 = none. */
    private int windowsBefore(DeidentifiedDay day) {
        OptionalInt end = day.day().isPresent()
                ? day.day()
                : day.week().isPresent()
                        ? OptionalInt.of(StudyDay.lastOfWeek(day.week().getAsInt()))
                        : OptionalInt.empty();
        int place = 0;
        if (end.isPresent()) {
            int latest = Integer.MIN_VALUE;
            for (int i = 0; i < schedule.visits().size(); i++) {
                Visit visit = schedule.visits().get(i);
                if (visit.toDay() < end.getAsInt() && visit.toDay() > latest) {
                    latest = visit.toDay();
                    place = i + 1;
                }
            }
        }
        return place;
    }
}
