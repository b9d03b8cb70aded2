package lumbrical.batch;

import java.util.List;
import lumbrical.intake.SittingRow;
import lumbrical.sitting.ScoredForm;

/** Takes the scored forms of one sitting. */
@FunctionalInterface
public interface FormSink {
    /** One sitting and its forms, blank ones included (they have no results). */
    void take(SittingRow sitting, List<ScoredForm> forms);
}
