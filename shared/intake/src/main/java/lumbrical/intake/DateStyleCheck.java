package lumbrical.intake;

import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import lumbrical.problem.Place;
import lumbrical.problem.Problem;
import lumbrical.problem.ProblemCode;
import lumbrical.problem.Remedy;
import lumbrical.tabular.Cells;
import lumbrical.tabular.Dates;

/** Whether a style of dates that the user named fits a file at all, and which would. */
final class DateStyleCheck {
    private boolean anyFits;
    private Optional<List<String>> fitAll = Optional.empty();

    /** Looks at one date of the file. */
    void see(String text, Optional<Dates.Moment> moment) {
        if (moment.isPresent()) {
            anyFits = true;
        } else if (!anyFits) {
            List<String> fitting = new ArrayList<>(Dates.stylesThatFit(text));
            fitAll.ifPresent(fitting::retainAll);
            fitAll = Optional.of(fitting);
        }
    }

    /** That the style fits no date of the file. */
    Optional<Problem> problem(Place file, Optional<String> style) {
        if (anyFits || style.isEmpty()) {
            return Optional.empty();
        }
        return fitAll.map(styles -> new Problem(
                file.in("completed_on"),
                Cells.printable(style.get()),
                ProblemCode.DATE_STYLE_FITS_NONE,
                "This style fits no date of the file."
                        + (styles.isEmpty()
                                ? " Look at the column of dates."
                                : " These would fit all: " + String.join(", ", styles) + "."),
                styles.stream()
                        .limit(1)
                        .map(fits -> new Remedy(Remedy.Kind.DATE_STYLE, fits))
                        .toList()));
    }
}
