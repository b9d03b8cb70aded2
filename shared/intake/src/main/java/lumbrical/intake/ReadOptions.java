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
 * @param decimalComma whether numbers are written with a decimal comma: 12,5, and 3,0 for the code 3
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
    private static final int YEARS_LOOKED_BACK = 99;

    /** Copies the collections. */
    public ReadOptions {
        notAnswered = Set.copyOf(notAnswered);
        carry = List.copyOf(carry);
    }

    /**
     * The first day of a completed form or of a treatment that can be meant: a year that lies a century back is a slip of the pen. Ours.
     */
    public LocalDate firstPlausibleDay() {
        return LocalDate.of(asOf.getYear() - YEARS_LOOKED_BACK, 1, 1);
    }

    /** The same, with numbers written with a decimal comma or not. */
    ReadOptions withDecimalComma(boolean comma) {
        return new ReadOptions(asOf, notAnswered, badAsNotAnswered, columns, codes, encoding, dateFormat, comma, carry);
    }

    /** The same, with another map of headings. */
    public ReadOptions withColumns(ColumnMap map) {
        return new ReadOptions(
                asOf, notAnswered, badAsNotAnswered, map, codes, encoding, dateFormat, decimalComma, carry);
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
