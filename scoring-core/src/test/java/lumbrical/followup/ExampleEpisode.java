package lumbrical.followup;

import java.time.LocalDate;
import java.util.Arrays;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalInt;
import java.util.function.UnaryOperator;
import lumbrical.instrument.InstrumentId;
import lumbrical.instrument.Side;
import lumbrical.problem.Place;

/** Puts an invented episode together in few words: of patient P1, right side, treated on {@link #INDEX}. */
final class ExampleEpisode {
    static final LocalDate INDEX = LocalDate.of(2024, 1, 31);
    private static final Map<String, Integer> ROWS = Map.of("E1", 2, "E2", 3, "E3", 4, "E4", 5);

    private final String id;
    private String patient = "P1";
    private Side side = Side.RIGHT;
    private UnaryOperator<Episode.Builder> rest = b -> b.indexDate(INDEX);

    private ExampleEpisode(String id) {
        this.id = id;
    }

    /** E1 stands in row 2 of the file, E2 in row 3, and so on. */
    static ExampleEpisode called(String id) {
        return new ExampleEpisode(id);
    }

    ExampleEpisode patient(String name) {
        patient = name;
        return this;
    }

    ExampleEpisode left() {
        side = Side.LEFT;
        return this;
    }

    ExampleEpisode treatedOn(LocalDate day) {
        return with(b -> b.indexDate(day));
    }

    ExampleEpisode withoutDate() {
        return with(b -> b.indexDate(Optional.empty()));
    }

    ExampleEpisode condition(String words) {
        return with(b -> b.condition(words));
    }

    ExampleEpisode bornIn(int year) {
        return with(b -> b.birthYear(OptionalInt.of(year)));
    }

    ExampleEpisode forms(String... ids) {
        return with(b -> b.forms(Arrays.stream(ids).map(InstrumentId::new).toList()));
    }

    ExampleEpisode closedOnDay(int day) {
        return with(b -> b.closure(Optional.of(new Episode.Closure(INDEX.plusDays(day), "moved"))));
    }

    private ExampleEpisode with(UnaryOperator<Episode.Builder> more) {
        UnaryOperator<Episode.Builder> before = rest;
        rest = b -> more.apply(before.apply(b));
        return this;
    }

    Episode build() {
        int row = Optional.ofNullable(ROWS.get(id)).orElse(2);
        return rest.apply(Episode.builder(patient, id, side))
                .place(Place.of("episodes.csv", row))
                .build();
    }
}
