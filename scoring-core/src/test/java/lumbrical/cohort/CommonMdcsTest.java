package lumbrical.cohort;

import static lumbrical.scoring.ExampleInstrument.PUBLISHED;
import static org.junit.jupiter.api.Assertions.assertEquals;

import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
import lumbrical.condition.Condition;
import lumbrical.condition.ConditionVocabulary;
import lumbrical.instrument.Instrument;
import lumbrical.instrument.InstrumentId;
import lumbrical.instrument.ScaleId;
import lumbrical.instrument.Side;
import lumbrical.instrument.Threshold;
import lumbrical.threshold.ExampleThreshold;
import lumbrical.threshold.ThresholdChoice;
import org.junit.jupiter.api.Test;

/** One error of measurement for a group, where it is one: an invented scale whose MDC is 25 for one condition and 15 else. */
class CommonMdcsTest {
    private static final InstrumentId LINE = new InstrumentId("line");
    private static final ScaleId TOTAL = new ScaleId("total");
    private static final Instrument SCALE = CohortClinic.line()
            .defaultsFor("ct", "", "mdc25", "")
            .threshold(ExampleThreshold.called("mdc25", Threshold.Kind.MDC)
                    .value(25)
                    .build())
            .build();

    private static CohortClinic clinic() {
        CohortClinic clinic = new CohortClinic(SCALE)
                .vocabulary(ConditionVocabulary.of(List.of(
                        new Condition("ct", "Carpal tunnel", List.of(), PUBLISHED, List.of()),
                        new Condition("td", "Trigger digit", List.of(), PUBLISHED, List.of()))));
        String[] conditions = {"ct", "td", "Carpal tunnel"};
        for (int i = 0; i < conditions.length; i++) {
            String condition = conditions[i];
            clinic.episode("P" + i, "E1", Side.RIGHT, e -> e.condition(Optional.of(condition)))
                    .line("P" + i, "E1", "baseline", 60)
                    .line("P" + i, "E1", "month3", 40);
        }
        return clinic;
    }

    private static OptionalDouble mdc(CommonMdcs mdcs, String by, String label) {
        return mdcs.of(new CohortGroup(by, label), LINE, TOTAL);
    }

    @Test
    void aConditionHasItsOwnAndAMixedGroupNone() {
        CommonMdcs mdcs = CommonMdcs.of(clinic().followUp());
        assertEquals(OptionalDouble.of(25), mdc(mdcs, "condition", "Carpal tunnel"));
        assertEquals(OptionalDouble.of(15), mdc(mdcs, "condition", "Trigger digit"));
        assertEquals(OptionalDouble.empty(), mdc(mdcs, "all", "all"), "15 and 25");
        assertEquals(OptionalDouble.empty(), mdc(mdcs, "condition", "nobody's"));
        assertEquals(OptionalDouble.empty(), mdcs.of(CohortGroup.ALL, new InstrumentId("rating"), TOTAL));
    }

    @Test
    void aNewClinicBeginsAnew() {
        CommonMdcs mdcs = CommonMdcs.of(clinic().followUp());
        mdcs.begins(List.of(), CohortClinic.SCHEDULE, CohortClinic.INDEX, ThresholdChoice.DEFAULTS);
        assertEquals(OptionalDouble.empty(), mdc(mdcs, "condition", "Carpal tunnel"));
    }
}
