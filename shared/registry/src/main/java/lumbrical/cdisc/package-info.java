/**
 * CDISC files: SDTM QS with SUPPQS, and an ADaM Basic Data Structure, as Dataset-JSON 1.1 (JSON and NDJSON) and CSV. Start at
 * {@link lumbrical.cdisc.CdiscFiles}.
 *
 * <p>Sources: SDTMIG 3.4 (QS domain and the assumptions shared by questionnaires), ADaMIG 1.3 (Basic Data Structure), Dataset-JSON 1.1
 * (final 2024-12-05).
 */
@NullMarked
package lumbrical.cdisc;

import org.jspecify.annotations.NullMarked;
