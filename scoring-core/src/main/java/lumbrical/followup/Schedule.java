package lumbrical.followup;

import java.util.List;
import java.util.Optional;

/**
 * The visits of a clinic or study.
 *
 * @param visits in the order of the schedule; windows do not overlap
 */
public record Schedule(List<Visit> visits) {
    /** Common practice, no source. */
    public static final Schedule DEFAULT = new Schedule(List.of(
            visit("baseline", 0, -90, 0, Visit.Role.BASELINE),
            visit("2 weeks", 14, 7, 27, Visit.Role.FOLLOW_UP),
            visit("6 weeks", 42, 28, 59, Visit.Role.FOLLOW_UP),
            visit("3 months", 91, 60, 136, Visit.Role.FOLLOW_UP),
            visit("6 months", 183, 137, 273, Visit.Role.FOLLOW_UP),
            visit("12 months", 365, 274, 547, Visit.Role.FOLLOW_UP),
            visit("24 months", 730, 548, 912, Visit.Role.FOLLOW_UP)));

    /** @throws IllegalArgumentException if there is no visit, two windows overlap, or two visits share a name */
    public Schedule {
        visits = List.copyOf(visits);
        if (visits.isEmpty()) {
            throw new IllegalArgumentException("The schedule has no visit");
        }
        for (int i = 0; i < visits.size(); i++) {
            for (int j = 0; j < i; j++) {
                refuseClash(visits.get(j), visits.get(i));
            }
        }
    }

    private static void refuseClash(Visit a, Visit b) {
        if (a.name().equals(b.name())) {
            throw new IllegalArgumentException("Two visits are called '" + a.name() + "'");
        }
        if (a.fromDay() <= b.toDay() && b.fromDay() <= a.toDay()) {
            throw new IllegalArgumentException("The windows of '" + a.name() + "' (" + a.fromDay() + " to " + a.toDay()
                    + ") and '" + b.name() + "' (" + b.fromDay() + " to " + b.toDay() + ") overlap");
        }
    }

    private static Visit visit(String name, int target, int from, int to, Visit.Role role) {
        return new Visit(name, target, from, to, role, List.of(), true);
    }

    /** The visit whose window holds that day from the index date; empty between and outside windows. */
    public Optional<Visit> visitOn(int day) {
        for (Visit visit : visits) {
            if (visit.holds(day)) {
                return Optional.of(visit);
            }
        }
        return Optional.empty();
    }
}
