package lumbrical.followup;

import java.util.function.Function;
import lumbrical.sitting.ScoredForm;

/** A form that was read: assigned to an episode, or not. */
public sealed interface PlacedForm permits AssignedForm, UnassignedForm {
    /** The form. */
    ScoredForm form();

    /** What is made of it, of whichever kind. */
    default <T> T fold(Function<AssignedForm, T> assigned, Function<UnassignedForm, T> unassigned) {
        return this instanceof AssignedForm a ? assigned.apply(a) : unassigned.apply((UnassignedForm) this);
    }
}
