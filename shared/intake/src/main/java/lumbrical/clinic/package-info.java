/**
 * A clinic's files in, everything known of its patients over time out: read, score, place in time, judge change, in one call. Start
 * at {@link lumbrical.clinic.ClinicAnalysis}.
 */
@NullMarked
package lumbrical.clinic;

import org.jspecify.annotations.NullMarked;
