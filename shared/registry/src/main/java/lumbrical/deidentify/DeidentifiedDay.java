package lumbrical.deidentify;

import java.time.LocalDate;
import java.util.Optional;
import java.util.OptionalInt;

/**
 * A day as the profile lets it leave the house; what the profile does not let through is empty.
 *
 * @param year calendar year; only beside days from the index date
 * @param week weeks from the index date of the episode: the whole weeks of {@code day}, rounded down, so that days 0 to 6 are week 0 and
 *     days -7 to -1 week -1; only where the profile sends weeks
 * @param day days from the index date of the episode, negative before it; empty where weeks are sent or there is no index date
 * @param shifted the date moved by as many days as every date of that patient; only where dates are shifted
 */
public record DeidentifiedDay(OptionalInt year, OptionalInt week, OptionalInt day, Optional<LocalDate> shifted) {
    /** The ISO 8601 date that may be written: the shifted date, else the year alone, else none. */
    public Optional<String> iso() {
        return shifted.map(LocalDate::toString)
                .or(() -> year.isPresent() ? Optional.of(String.valueOf(year.getAsInt())) : Optional.empty());
    }
}
