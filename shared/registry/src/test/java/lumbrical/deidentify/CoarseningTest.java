package lumbrical.deidentify;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import lumbrical.instrument.Side;
import org.junit.jupiter.api.Test;

/** Small groups, counted by hand. */
class CoarseningTest {
    private final List<DeidentifiedEpisode> episodes = new ArrayList<>();

    /** An episode of the right hand with sex, procedure and what else is given. */
    private void add(String subject, int number, String sex, String procedure, String... more) {
        Map<String, String> values = new LinkedHashMap<>(Map.of("sex", sex, "procedure", procedure));
        for (int i = 0; i < more.length; i += 2) {
            values.put(more[i], more[i + 1]);
        }
        episodes.add(new DeidentifiedEpisode(
                new Sender("SITE", "STUDY"),
                subject,
                subject + "-" + number,
                Optional.of(Side.RIGHT),
                Optional.empty(),
                values,
                List.of()));
    }

    private Disclosure.Cells count(int k) {
        DisclosureCount count = new DisclosureCount();
        episodes.forEach(count::add);
        return count.person(k, Profile.DEFAULT);
    }

    @Test
    void subjectsAreCountedOnceWithAllTheirEpisodes() {
        add("A", 1, "female", "release");
        add("B", 1, "female", "release");
        add("C", 1, "female", "release");
        add("C", 2, "female", "release");
        Disclosure.Cells two = count(2);
        assertEquals(List.of(3, 1, 1), List.of(two.subjects(), two.underK(), two.unique()));
        assertEquals(3, count(3).underK());
        assertEquals(0, count(1).underK());
        assertEquals(
                List.of("treated_side", "sex", "age_band", "dominant_side", "closed_reason", "language"), two.fields());
    }

    /** Of three with release and two with another procedure each, the two lose it and are then alike; the three keep it. */
    @Test
    void onlyThoseInTooSmallAGroupLoseAValue() {
        add("A", 1, "female", "release");
        add("B", 1, "female", "release");
        add("C", 1, "female", "release");
        add("D", 1, "female", "needle");
        add("E", 1, "female", "plate");
        Coarsening coarsening = Coarsening.of(2, episodes);
        for (String kept : List.of("A", "B", "C")) {
            assertFalse(coarsening.blanks(kept, CoarsenedField.PROCEDURE), kept);
        }
        for (String blanked : List.of("D", "E")) {
            assertTrue(coarsening.blanks(blanked, CoarsenedField.PROCEDURE), blanked);
            assertFalse(coarsening.blanks(blanked, CoarsenedField.SEX), blanked);
        }
        assertEquals(Map.of("procedure", 2), coarsening.counts());
    }

    /** One man among women can only be hidden when a woman loses as much as he does. */
    @Test
    void othersJoinWhoIsLeftAloneWithNothing() {
        add("A", 1, "female", "release");
        add("B", 1, "female", "release");
        add("C", 1, "female", "release");
        add("M", 1, "male", "release");
        Coarsening coarsening = Coarsening.of(2, episodes);
        long blanked = List.of("A", "B", "C").stream()
                .filter(s -> coarsening.blanks(s, CoarsenedField.SEX))
                .count();
        assertTrue(coarsening.blanks("M", CoarsenedField.SEX));
        assertEquals(1, blanked);
        assertEquals(Map.of("procedure", 2, "side", 2, "sex", 2), coarsening.counts());
    }

    @Test
    void anEpisodeThatOnlyAFewHaveIsLeftOut() {
        for (String subject : List.of("A", "B", "C")) {
            add(subject, 1, "female", "release");
        }
        add("C", 2, "female", "release");
        Coarsening coarsening = Coarsening.of(2, episodes);
        assertEquals(Set.of("C-2"), coarsening.leftOut());
        assertEquals(Map.of(), coarsening.counts());
    }

    @Test
    void columnsOfTheProfilesOwnGoFirst() {
        add("A", 1, "female", "release", "work", "baker");
        add("B", 1, "female", "release", "work", "mason");
        assertEquals(Map.of("other columns", 2), Coarsening.of(2, episodes).counts());
    }

    @Test
    void oneAloneCannotBeHidden() {
        add("A", 1, "female", "release");
        assertEquals(Set.of(), Coarsening.of(2, episodes).leftOut());
        assertEquals(
                Map.of("procedure", 1, "side", 1, "sex", 1),
                Coarsening.of(2, episodes).counts());
    }
}
