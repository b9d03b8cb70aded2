package lumbrical.cohort;

import java.util.ArrayList;
import java.util.EnumMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalInt;
import lumbrical.instrument.InstrumentId;
import lumbrical.scoring.Reason;

/** What became of the forms. */
final class Flow {
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
            Optional<ScaleTable> scale = data.firstScale(instrument);
            for (int v = 0; v < data.visits().size(); v++) {
                Counter counter = new Counter();
                for (int i : group.members()) {
                    counter.count(data.forms().at(instrument, v, i), instrument, v, i, scale);
                }
                asked |= counter.asked > 0;
                own.add(counter.row(group, instrument, v, scale.isPresent()));
            }
            if (asked) {
                rows.addAll(own);
            }
        }
        return rows;
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
                FormStates.State state, InstrumentId instrument, int visit, int episode, Optional<ScaleTable> scale) {
            asked += state == FormStates.State.NOT_ASKED ? 0 : 1;
            switch (state) {
                case NOT_ASKED -> {}
                case NOT_YET -> notYet++;
                case CLOSED -> closed++;
                case EXPECTED -> expected++;
                case RECEIVED -> {
                    expected++;
                    received++;
                    if (scale.isEmpty()) {
                        scorable++;
                    } else {
                        judge(instrument, visit, episode, scale.get());
                    }
                }
            }
        }

        private void judge(InstrumentId instrument, int visit, int episode, ScaleTable table) {
            VisitScores scores = table.scores().at(visit);
            if (scores.scored(episode)) {
                scorable++;
                paired += scores.paired(episode) ? 1 : 0;
                return;
            }
            UnscoredForms.Why why = data.unscored().of(episode, visit, instrument);
            if (why.enteredTwice()) {
                enteredTwice++;
            } else {
                notScored.merge(why.reason(table.scale().id()), 1, Integer::sum);
            }
        }

        FlowRow row(Groups.Group group, InstrumentId instrument, int visit, boolean hasScale) {
            boolean pairs = hasScale && data.visits().followUp(visit);
            return new FlowRow(
                    group.label(),
                    instrument,
                    data.visits().get(visit),
                    new FlowRow.Asked(group.members().length, notYet, closed, expected, received),
                    scorable,
                    pairs ? OptionalInt.of(paired) : OptionalInt.empty(),
                    notScored,
                    enteredTwice);
        }
    }
}
