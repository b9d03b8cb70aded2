package lumbrical.intake;

import java.nio.charset.Charset;
import java.time.LocalDate;
import java.util.List;
import java.util.Optional;
import java.util.Set;

/**
 * How a clinic's files are to be read.
 *
 * @param asOf the day on which things are looked at; a later date is in the future
 * @param notAnswered texts that mean not answered, besides blank
 * @param badAsNotAnswered whether a response that is not allowed is listed and then treated as not answered
 * @param columns a clinic's own headings
 * @param codes a clinic's own answer texts
 * @param encoding encoding of CSV files that are not Unicode
 * @param dateFormat pattern of dates that are not ISO dates, such as {@code dd.MM.yyyy}
 * @param decimalComma whether items with a range take a decimal comma
 * @param carry columns of the episode table to take along
 */
public record ReadOptions(
        LocalDate asOf,
        Set<String> notAnswered,
        boolean badAsNotAnswered,
        ColumnMap columns,
        CodeMap codes,
        Optional<Charset> encoding,
        Optional<String> dateFormat,
        boolean decimalComma,
        List<String> carry) {
    /** Copies the collections. */
    public ReadOptions {
        notAnswered = Set.copyOf(notAnswered);
        carry = List.copyOf(carry);
    }

    /** Everything as the contract of the files says, looked at on {@code asOf}. */
    public static ReadOptions asOf(LocalDate asOf) {
        return new ReadOptions(
                asOf,
                Set.of(),
                false,
                ColumnMap.NONE,
                CodeMap.NONE,
                Optional.empty(),
                Optional.empty(),
                false,
                List.of());
    }
}
