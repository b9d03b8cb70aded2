package lumbrical.followup;

import lumbrical.problem.ProblemCode;
import lumbrical.sitting.ScoredForm;

/**
 * A form of which no episode is known. Its scores are listed and used for nothing.
 *
 * @param form the form
 * @param why the problem
 */
public record UnassignedForm(ScoredForm form, ProblemCode why) implements PlacedForm {}
