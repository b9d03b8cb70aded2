package lumbrical.cohort;

import java.util.ArrayList;
import java.util.Collections;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import lumbrical.followup.Schedule;
import lumbrical.followup.Visit;

/** The visits of a schedule by position. */
final class Visits {
    private final List<Visit> visits;
    private final Map<String, Integer> positions = new HashMap<>();

    Visits(Schedule schedule) {
        visits = schedule.visits();
        for (int i = 0; i < visits.size(); i++) {
            positions.put(visits.get(i).name(), i);
        }
    }

    int size() {
        return visits.size();
    }

    Visit get(int position) {
        return visits.get(position);
    }

    boolean followUp(int position) {
        return visits.get(position).role() == Visit.Role.FOLLOW_UP;
    }

    /** @throws IllegalArgumentException if it is none of the schedule */
    int indexOf(Visit visit) {
        return Optional.ofNullable(positions.get(visit.name()))
                .orElseThrow(() -> new IllegalArgumentException("'" + visit.name() + "' is no visit of the schedule"));
    }

    /** One empty place for each. */
    <T> List<Optional<T>> blank() {
        return new ArrayList<>(Collections.nCopies(visits.size(), Optional.empty()));
    }
}
