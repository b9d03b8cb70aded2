package lumbrical.fastpath;

import static org.junit.jupiter.api.Assertions.assertEquals;

import java.time.LocalDate;
import java.time.LocalTime;
import java.util.HashSet;
import java.util.List;
import java.util.Optional;
import java.util.Set;
import lumbrical.instrument.Side;
import lumbrical.problem.Place;
import lumbrical.sitting.Sitting;
import net.jqwik.api.Arbitraries;
import net.jqwik.api.Arbitrary;
import net.jqwik.api.Combinators;
import net.jqwik.api.ForAll;
import net.jqwik.api.Property;
import net.jqwik.api.Provide;
import net.jqwik.api.constraints.LongRange;
import org.junit.jupiter.api.Test;

/** The watch that keeps hashes says the same as a set that keeps the sittings. */
class DuplicateDetectorProperties {
    @Property
    void noticesWhatASetNotices(
            @ForAll("sittings") List<Sitting> sittings, @ForAll @LongRange(max = 5_000) long expected) {
        DuplicateDetector watch = new DuplicateDetector();
        watch.expect(expected);
        Set<Sitting.Key> kept = new HashSet<>();
        for (Sitting s : sittings) {
            boolean known = !kept.add(s.key());
            assertEquals(known, watch.seenBefore(DuplicateDetector.sittingHash(s)));
        }
    }

    @Provide
    Arbitrary<List<Sitting>> sittings() {
        Arbitrary<String> patient = Arbitraries.of("A", "B", "AB", "REG-0001", "REG-00010", "REG-2015-100000000");
        return Combinators.combine(
                        patient,
                        Arbitraries.integers().between(0, 2),
                        Arbitraries.of(LocalTime.MIDNIGHT, LocalTime.of(9, 30)).optional(),
                        Arbitraries.of(Side.values()).optional(),
                        Arbitraries.of("1", "2", "E-0000001").optional())
                .as((p, day, time, side, episode) ->
                        sitting(p, LocalDate.of(2026, 3, 1).plusDays(day), time, side, episode))
                .list()
                .ofMaxSize(300);
    }

    /** Many in a row, as a registry numbers its patients: none is taken for another, while the tables grow. */
    @Test
    void takesNoSittingForAnother() {
        DuplicateDetector watch = new DuplicateDetector();
        for (int round = 0; round < 2; round++) {
            for (int i = 0; i < 200_000; i++) {
                Sitting sitting = sitting(
                        "REG-2015-" + (100_000_000 + i / 10),
                        LocalDate.of(2016, 1, 1).plusDays(i % 10),
                        Optional.empty(),
                        Optional.of(Side.RIGHT),
                        Optional.empty());
                assertEquals(round == 1, watch.seenBefore(DuplicateDetector.sittingHash(sitting)));
            }
        }
    }

    private static Sitting sitting(
            String patient, LocalDate day, Optional<LocalTime> time, Optional<Side> side, Optional<String> episode) {
        Optional<String> none = Optional.empty();
        return new Sitting(patient, day, time, side, episode, none, none, none, Place.of("made.csv"));
    }
}
