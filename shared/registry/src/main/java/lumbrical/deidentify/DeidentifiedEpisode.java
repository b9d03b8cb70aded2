package lumbrical.deidentify;

import java.util.Collections;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import lumbrical.instrument.Side;

/**
 * One treatment of one side, without anything that names the person.
 *
 * @param sender where it comes from and what it is for
 * @param subject pseudonym of the patient
 * @param id pseudonym of the episode, unique among all
 * @param treatedSide right or left; empty where it is left blank
 * @param index the index date; empty if there is none
 * @param attributes values that the profile lets through, by column, in the profile's order
 * @param forms the forms sent, by day
 */
public record DeidentifiedEpisode(
        Sender sender,
        String subject,
        String id,
        Optional<Side> treatedSide,
        Optional<DeidentifiedDay> index,
        Map<String, String> attributes,
        List<DeidentifiedForm> forms) {
    /** Copies the collections. */
    public DeidentifiedEpisode {
        attributes = Collections.unmodifiableMap(new LinkedHashMap<>(attributes));
        forms = List.copyOf(forms);
    }
}
