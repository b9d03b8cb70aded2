package lumbrical.reconcile;

import java.util.Optional;
import java.util.OptionalDouble;
import lumbrical.catalogue.Catalogue;
import lumbrical.instrument.Column;
import lumbrical.instrument.Side;
import lumbrical.intake.AllowedResponses;
import lumbrical.number.Numbers;
import lumbrical.problem.Place;
import lumbrical.problem.Problem;
import lumbrical.problem.ProblemCode;
import lumbrical.tabular.Cells;

/** What a person read on the form, held against what its column allows. */
final class DecidedValue {
    private DecidedValue() {}

    /** The value in one form, also where a spreadsheet of another language wrote it with a comma; empty if it is not allowed. */
    static Optional<String> of(String column, String value, Catalogue catalogue) {
        Optional<Column> item = item(column, catalogue);
        if (item.isPresent()) {
            OptionalDouble number = Cells.number(value.replace(',', '.'));
            return number.stream()
                    .filter(item.get().item().responses()::allows)
                    .mapToObj(Numbers::format)
                    .findFirst();
        }
        return column.equals("side") ? Side.parse(value).map(Side::code) : Optional.of(value);
    }

    /** That the value is not allowed, so that the difference stays open. */
    static Problem problem(Place place, String column, String value, Catalogue catalogue) {
        return new Problem(
                place,
                Cells.printable(value),
                column.equals("side") ? ProblemCode.SIDE_NOT_KNOWN : ProblemCode.RESPONSE_NOT_ALLOWED,
                "This is not taken for " + column + ", and the difference stays open. "
                        + item(column, catalogue)
                                .map(c -> AllowedResponses.inWords(c.item().responses()))
                                .orElse("Allowed are right, left and both.")
                        + " Look at the form and correct the cell.");
    }

    private static Optional<Column> item(String column, Catalogue catalogue) {
        return catalogue.ownerOf(column).flatMap(instrument -> instrument.column(column));
    }
}
