package lumbrical.intake;

import java.util.List;
import lumbrical.problem.Place;
import lumbrical.problem.Problem;
import lumbrical.problem.ProblemCode;
import lumbrical.problem.Remedy;
import lumbrical.tabular.Cells;
import lumbrical.tabular.Dates;

/** What to do about a date that is none. */
final class DateAdvice {
    private DateAdvice() {}

    /**
     * The problem of a date that cannot be read.
     *
     * @param consequence what becomes of the row
     */
    static Problem problem(Place place, String text, String consequence) {
        String what = Dates.looksLikeSheetNumber(text)
                ? " This looks like the number by which a spreadsheet keeps a day: give the cells of the column a date format"
                        + " (2026-03-09) and save the file again."
                : " Write the date as 2026-03-09.";
        List<Remedy> remedies = Dates.stylesThatFit(text).stream()
                .map(style -> new Remedy(Remedy.Kind.DATE_STYLE, style))
                .limit(2)
                .toList();
        return new Problem(place, Cells.printable(text), ProblemCode.DATE_NOT_ISO, consequence + what, remedies);
    }
}
