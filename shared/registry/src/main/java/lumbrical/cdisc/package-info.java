/**
 * CDISC files: SDTM DM and QS with their supplements, ADaM ADSL and a Basic Data Structure, as Dataset-JSON 1.1 (JSON and NDJSON) and
 * CSV, described by Define-XML 2.1. Start at {@link lumbrical.cdisc.CdiscFiles}.
 *
 * <p>Sources: SDTMIG 3.4 (QS domain and the assumptions shared by questionnaires), ADaMIG 1.3 (Basic Data Structure), Dataset-JSON 1.1
 * (final 2024-12-05), Define-XML 2.1 (its schema, and the
 * examples of DM and ADSL published with Dataset-JSON).
 */
@NullMarked
package lumbrical.cdisc;

import org.jspecify.annotations.NullMarked;
