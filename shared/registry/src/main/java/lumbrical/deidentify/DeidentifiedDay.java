package lumbrical.deidentify;

import java.time.LocalDate;
import java.util.Optional;
import java.util.OptionalInt;

/**
 * A day as it may leave the house.
 *
 * @param year calendar year; of the shifted date where dates are shifted
 * @param day days from the index date of the episode, negative before it; empty if the episode has no index date
 * @param shifted the date moved by as many days as every date of that patient; empty unless dates are shifted
 */
public record DeidentifiedDay(int year, OptionalInt day, Optional<LocalDate> shifted) {
    /** The ISO 8601 date that may be written: the shifted date, else the year alone. */
    public String iso() {
        return shifted.map(LocalDate::toString).orElse(String.valueOf(year));
    }
}
