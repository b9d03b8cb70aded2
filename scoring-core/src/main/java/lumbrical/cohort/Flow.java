package lumbrical.cohort;

import java.time.LocalTime;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.EnumMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalInt;
import java.util.TreeMap;
import lumbrical.followup.AssignedForm;
import lumbrical.followup.EpisodeFollowUp;
import lumbrical.followup.Visit;
import lumbrical.instrument.InstrumentId;
import lumbrical.instrument.ScaleId;
import lumbrical.scoring.Reason;

/** What became of the forms. */
final class Flow {
    private static final Comparator<AssignedForm> BY_TIME = Comparator.comparing(
                    (AssignedForm f) -> f.form().sitting().completedOn())
            .thenComparing(f -> f.form().sitting().time().orElse(LocalTime.MIN));

    private final ClinicData data;

    Flow(ClinicData data) {
        this.data = data;
    }

    /** The rows of a group, by instrument and visit. */
    List<FlowRow> rows(Groups.Group group) {
        List<FlowRow> rows = new ArrayList<>();
        for (InstrumentId instrument : data.forms().instruments()) {
            List<FlowRow> own = new ArrayList<>();
            boolean asked = false;
            Optional<Map<Integer, Course>> courses = data.firstScale(instrument).map(t -> byEpisode(t, group));
            for (int v = 0; v < data.visits().size(); v++) {
                Counter counter = new Counter();
                for (int i : group.members()) {
                    counter.count(data.forms().at(instrument, v, i), instrument, v, i, courses);
                }
                asked |= counter.asked > 0;
                own.add(counter.row(group, instrument, v, courses.isPresent()));
            }
            if (asked) {
                rows.addAll(own);
            }
        }
        return rows;
    }

    private Map<Integer, Course> byEpisode(ScaleTable table, Groups.Group group) {
        Map<Integer, Course> courses = new TreeMap<>();
        table.of(group.mask(data.episodes().size())).forEach(c -> courses.put(c.episode(), c));
        return courses;
    }

    private final class Counter {
        private int asked;
        private int notYet;
        private int closed;
        private int expected;
        private int received;
        private int scorable;
        private int paired;
        private int enteredTwice;
        private final Map<Reason, Integer> notScored = new EnumMap<>(Reason.class);

        void count(
                FormStates.State state,
                InstrumentId instrument,
                int visit,
                int episode,
                Optional<Map<Integer, Course>> courses) {
            asked += state == FormStates.State.NOT_ASKED ? 0 : 1;
            switch (state) {
                case NOT_ASKED -> {}
                case NOT_YET -> notYet++;
                case CLOSED -> closed++;
                case EXPECTED -> expected++;
                case RECEIVED -> {
                    expected++;
                    received++;
                    if (courses.isEmpty()) {
                        scorable++;
                    } else {
                        judge(instrument, visit, episode, courses.get());
                    }
                }
            }
        }

        private void judge(InstrumentId instrument, int visit, int episode, Map<Integer, Course> courses) {
            Optional<Course> course = Optional.ofNullable(courses.get(episode));
            if (course.flatMap(c -> c.points().get(visit)).isPresent()) {
                scorable++;
                paired += course.flatMap(c -> c.pairAt(visit)).isPresent() ? 1 : 0;
                return;
            }
            EpisodeFollowUp followUp = data.episodes().get(episode);
            Visit at = data.visits().get(visit);
            List<AssignedForm> came = followUp.received()
                    .filter(f -> f.form().instrument().id().equals(instrument)
                            && f.at().visit().filter(at::equals).isPresent())
                    .sorted(BY_TIME)
                    .toList();
            if (came.stream().allMatch(AssignedForm::contradicted)) {
                enteredTwice++;
            } else {
                notScored.merge(reason(came, instrument), 1, Integer::sum);
            }
        }

        /** Why the first form has no score of the scale that is counted. */
        private Reason reason(List<AssignedForm> came, InstrumentId instrument) {
            Optional<ScaleId> scale =
                    data.firstScale(instrument).map(t -> t.scale().id());
            return came.stream()
                    .filter(f -> !f.contradicted())
                    .flatMap(AssignedForm::scoresOfTreatedHand)
                    .filter(s -> scale.equals(Optional.of(s.scale().id())))
                    .flatMap(s -> s.result().reason().stream())
                    .findFirst()
                    .orElse(Reason.NO_ANSWERS);
        }

        FlowRow row(Groups.Group group, InstrumentId instrument, int visit, boolean hasScale) {
            boolean pairs = hasScale && data.visits().followUp(visit);
            return new FlowRow(
                    group.label(),
                    instrument,
                    data.visits().get(visit),
                    new FlowRow.Asked(group.members().size(), notYet, closed, expected, received),
                    scorable,
                    pairs ? OptionalInt.of(paired) : OptionalInt.empty(),
                    notScored,
                    enteredTwice);
        }
    }
}
