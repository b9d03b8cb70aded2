package lumbrical.intake;

import lumbrical.scoring.Response;
import lumbrical.sitting.Sitting;

/**
 * A row of the long layout.
 *
 * @param sitting who, when, which side, as the row says
 * @param column what it answers
 * @param response the answer
 */
public record LongResponse(Sitting sitting, LongColumn column, Response response) {}
