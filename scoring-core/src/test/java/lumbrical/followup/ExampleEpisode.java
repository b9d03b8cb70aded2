package lumbrical.followup;

import java.time.LocalDate;
import java.util.Arrays;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalInt;
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
    private Optional<LocalDate> index = Optional.of(INDEX);
    private Optional<String> condition = Optional.empty();
    private List<InstrumentId> forms = List.of();
    private Optional<Episode.Closure> closure = Optional.empty();

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
        index = Optional.of(day);
        return this;
    }

    ExampleEpisode withoutDate() {
        index = Optional.empty();
        return this;
    }

    ExampleEpisode condition(String words) {
        condition = Optional.of(words);
        return this;
    }

    ExampleEpisode forms(String... ids) {
        forms = Arrays.stream(ids).map(InstrumentId::new).toList();
        return this;
    }

    ExampleEpisode closedOnDay(int day) {
        closure = Optional.of(new Episode.Closure(INDEX.plusDays(day), "moved"));
        return this;
    }

    Episode build() {
        return new Episode(
                patient,
                id,
                side,
                index,
                Optional.empty(),
                Optional.empty(),
                OptionalInt.empty(),
                condition,
                Optional.empty(),
                forms,
                closure,
                true,
                Map.of(),
                Place.of("episodes.csv", ROWS.get(id)));
    }
}
