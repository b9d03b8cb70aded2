package lumbrical.deidentify;

import java.time.LocalDate;
import java.util.Collections;
import java.util.List;
import java.util.Map;
import java.util.TreeMap;
import java.util.function.Consumer;
import lumbrical.followup.Schedule;
import lumbrical.instrument.Instrument;

/**
 * Everything that leaves the house, and the count of what does not. Episodes come one at a time, so that memory stays flat.
 *
 * @param profile the rules it was made by
 * @param sender where it comes from and what it is for
 * @param asOf the day on which the clinic is looked at
 * @param schedule the visits
 * @param statement what the pseudonyms are worth
 * @param instruments instruments of the forms sent, in alphabetical order
 * @param contents the episodes sent, by pseudonym
 * @param counts how much is sent and what stays
 * @param disclosure how many people are alike in what is sent
 * @param withheld what is not sent, in the order of the input
 */
public record DeidentifiedDataset(
        Profile profile,
        Sender sender,
        LocalDate asOf,
        Schedule schedule,
        String statement,
        List<Instrument> instruments,
        Contents contents,
        Counts counts,
        Disclosure disclosure,
        List<Withheld> withheld) {
    /** Copies the lists. */
    public DeidentifiedDataset {
        instruments = List.copyOf(instruments);
        withheld = List.copyOf(withheld);
    }

    /** Hands the episodes over, in the order of their pseudonyms; the same each time. */
    @FunctionalInterface
    public interface Contents {
        /** Calls {@code taker} with each episode. */
        void forEach(Consumer<DeidentifiedEpisode> taker);
    }

    /**
     * Counts.
     *
     * @param subjects patients of whom something is sent
     * @param episodes episodes sent
     * @param sittings sittings of which at least one form is sent
     * @param sittingsWithheld by reason, sittings with answers of which no form is sent
     * @param forms forms sent; a form of both sides counts once for each side's episode
     * @param episodesNotShared episodes whose {@code share} is {@code no}
     * @param blanked by column, values that the profile does not list and that were left blank
     * @param answersHeldBack answers about a hand of which nothing leaves, of forms that are sent or hold nothing else
     */
    public record Counts(
            int subjects,
            int episodes,
            long sittings,
            Map<String, Long> sittingsWithheld,
            int forms,
            int episodesNotShared,
            Map<String, Integer> blanked,
            int answersHeldBack) {
        /** Copies the maps. */
        public Counts {
            sittingsWithheld = Collections.unmodifiableSortedMap(new TreeMap<>(sittingsWithheld));
            blanked = Collections.unmodifiableSortedMap(new TreeMap<>(blanked));
        }
    }
}
