package lumbrical.clinic;

import lumbrical.followup.FollowUpSource;

/**
 * What the files of a clinic say, where the clinic need not be held whole.
 *
 * @param result all but the episodes: of these its {@link ClinicResult#followUp()} has the counts and problems alone
 * @param episodes the episodes, each judged whenever it is asked for
 */
public record ClinicOnDemand(ClinicResult result, FollowUpSource episodes) {}
