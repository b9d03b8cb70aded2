package lumbrical.cohort;

/**
 * How many of a group improved by at least so much.
 *
 * @param at group, scale and visit
 * @param improvement an improvement seen
 * @param atLeast how many of the paired improved by that or more
 */
public record EcdfRow(RowPlace at, double improvement, Share atLeast) {}
