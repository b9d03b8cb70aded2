package lumbrical.intake;

import java.util.ArrayList;
import java.util.HashMap;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import lumbrical.problem.Place;
import lumbrical.problem.Problem;
import lumbrical.problem.ProblemCode;
import lumbrical.problem.Remedy;
import lumbrical.tabular.Cells;
import lumbrical.tabular.Dates;

/** What to do about a date that is none. */
public final class DateAdvice {
    private DateAdvice() {}

    /**
     * The problem of a date that cannot be read. Its remedies are the styles by which this one text is a day; which of them fits the
     * column is known when the file has been read.
     *
     * @param consequence what becomes of the row
     * @param style the style that the user named: what is said of it is said of the column
     * @see #settled
     */
    static Problem problem(Place place, String text, String consequence, Optional<String> style) {
        String what = Dates.looksLikeSheetNumber(text)
                ? " This looks like the number by which a spreadsheet keeps a day: give the cells of the column a date format"
                        + " (2026-03-09) and save the file again."
                : " Write the date as 2026-03-09.";
        List<Remedy> remedies = style.isPresent()
                ? List.of()
                : Dates.stylesThatFit(text).stream()
                        .map(fits -> new Remedy(Remedy.Kind.DATE_STYLE, fits))
                        .toList();
        return new Problem(place, Cells.printable(text), ProblemCode.DATE_NOT_ISO, consequence + what, remedies);
    }

    private record Column(String file, Optional<String> heading) {
        static Column of(Problem problem) {
            return new Column(problem.place().file(), problem.place().column());
        }
    }

    private static boolean asksForStyle(Problem problem) {
        return problem.code() == ProblemCode.DATE_NOT_ISO
                && problem.remedies().stream().anyMatch(r -> r.kind() == Remedy.Kind.DATE_STYLE);
    }

    /**
     * The problems of a run, where each date that cannot be read offers the styles that fit every such date of its column: none if no
     * style does, two or more if the dates do not tell which is right. Others are left as they are.
     */
    public static List<Problem> settled(List<Problem> problems) {
        Map<Column, Set<String>> texts = new HashMap<>();
        problems.stream().filter(DateAdvice::asksForStyle).forEach(p -> texts.computeIfAbsent(
                        Column.of(p), c -> new LinkedHashSet<>())
                .add(p.value()));
        Map<Column, List<Remedy>> styles = new HashMap<>();
        texts.forEach((column, all) -> styles.put(
                column,
                Dates.stylesThatFitAll(all).stream()
                        .map(style -> new Remedy(Remedy.Kind.DATE_STYLE, style))
                        .toList()));
        List<Problem> settled = new ArrayList<>(problems.size());
        problems.forEach(p -> settled.add(
                asksForStyle(p)
                        ? new Problem(p.place(), p.value(), p.code(), p.advice(), styles.get(Column.of(p)), p.patient())
                        : p));
        return settled;
    }
}
