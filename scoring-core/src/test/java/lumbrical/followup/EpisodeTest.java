package lumbrical.followup;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertThrows;

import java.time.LocalDate;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalInt;
import lumbrical.instrument.InstrumentId;
import lumbrical.instrument.Side;
import lumbrical.problem.Place;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

/** An episode as a value; invented data. */
class EpisodeTest {
    private static final LocalDate INDEX = ExampleEpisode.INDEX;

    @Test
    void whatIsNotSaidIsAbsentAndItMayBeShared() {
        Episode bare = Episode.builder("P1", "E1", Side.LEFT).build();
        assertEquals(new Episode.Key("P1", "E1"), bare.key());
        assertEquals(Side.LEFT, bare.treatedSide());
        assertEquals(Optional.empty(), bare.indexDate());
        assertEquals(Optional.empty(), bare.dominantSide());
        assertEquals(Optional.empty(), bare.sex());
        assertEquals(OptionalInt.empty(), bare.birthYear());
        assertEquals(Optional.empty(), bare.condition());
        assertEquals(Optional.empty(), bare.procedure());
        assertEquals(List.of(), bare.forms());
        assertEquals(Optional.empty(), bare.closure());
        assertEquals(true, bare.share());
        assertEquals(Map.of(), bare.carried());
        assertEquals(Place.of("episodes"), bare.place());
    }

    @Test
    void everyPartIsTaken() {
        Map<String, String> carried = new LinkedHashMap<>();
        carried.put("surgeon", "B");
        carried.put("clinic", "A");
        Episode.Closure closure = new Episode.Closure(INDEX, "moved");
        List<InstrumentId> forms = List.of(new InstrumentId("form"));
        Episode made = Episode.builder("P1", "E1", Side.RIGHT)
                .indexDate(INDEX)
                .dominantSide(Optional.of(Side.LEFT))
                .sex(Optional.of("female"))
                .birthYear(OptionalInt.of(1960))
                .condition("Invented condition")
                .procedure(Optional.of("Invented procedure"))
                .forms(forms)
                .closure(Optional.of(closure))
                .notShared()
                .carried(carried)
                .place(Place.of("episodes.csv", 4))
                .build();
        carried.put("later", "C");
        assertEquals(
                new Episode(
                        "P1",
                        "E1",
                        Side.RIGHT,
                        Optional.of(INDEX),
                        Optional.of(Side.LEFT),
                        Optional.of("female"),
                        OptionalInt.of(1960),
                        Optional.of("Invented condition"),
                        Optional.of("Invented procedure"),
                        forms,
                        Optional.of(closure),
                        false,
                        Map.of("surgeon", "B", "clinic", "A"),
                        Place.of("episodes.csv", 4)),
                made);
        assertEquals(List.of("surgeon", "clinic"), List.copyOf(made.carried().keySet()), "in the order of the file");
    }

    /** Section 3 of the formats: a closure after the as-of date is not known yet; before the index date it closes nothing. */
    @ParameterizedTest
    @CsvSource({"-1, 60, false", "0, 60, true", "30, 29, false", "30, 30, true", "30, 31, true"})
    void aClosureIsKnownFromItsDayOn(int closed, int today, boolean known) {
        Episode.Closure closure = new Episode.Closure(INDEX.plusDays(closed), "died");
        Episode episode = Episode.builder("P1", "E1", Side.RIGHT)
                .indexDate(INDEX)
                .closure(Optional.of(closure))
                .build();
        assertEquals(known ? Optional.of(closure) : Optional.empty(), episode.closureKnown(INDEX.plusDays(today)));
    }

    @Test
    void withoutAnIndexDateAClosureCloses() {
        Episode.Closure closure = new Episode.Closure(INDEX.minusDays(1), "died");
        Episode episode = Episode.builder("P1", "E1", Side.RIGHT)
                .closure(Optional.of(closure))
                .build();
        assertEquals(Optional.of(closure), episode.closureKnown(INDEX));
    }

    @Test
    void itTreatsOneSide() {
        assertEquals(
                "An episode treats one side; episodes.csv row 2 says both",
                assertThrows(IllegalArgumentException.class, () -> Episode.builder("P1", "E1", Side.BOTH)
                                .place(Place.of("episodes.csv", 2))
                                .build())
                        .getMessage());
    }
}
