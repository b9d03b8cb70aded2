package lumbrical.reconcile;

import java.util.HashSet;
import java.util.List;
import java.util.Set;
import java.util.stream.Stream;
import lumbrical.intake.ColumnMap;
import lumbrical.problem.Place;
import lumbrical.problem.Problem;
import lumbrical.problem.ProblemCode;
import lumbrical.tabular.Cells;

/** Cells of the two tables on which a person has decided: what was wrong in them is settled. */
public final class SettledPlaces {
    private record Spot(String file, int row, String column) {}

    private final Set<Spot> spots = new HashSet<>();
    private final ColumnMap headings;

    private SettledPlaces(ColumnMap headings) {
        this.headings = headings;
    }

    /**
     * The places of the differences that are decided.
     *
     * @param headings the clinic's own headings, by which the cells are named
     */
    public static SettledPlaces of(List<Difference> differences, ColumnMap headings) {
        SettledPlaces settled = new SettledPlaces(headings);
        differences.stream().filter(difference -> !difference.open()).forEach(difference -> Stream.concat(
                        difference.firstPlace().stream(), difference.secondPlace().stream())
                .forEach(place -> settled.add(place, difference.column())));
        return settled;
    }

    private void add(Place place, String column) {
        place.row().ifPresent(row -> spots.add(new Spot(place.file(), row, column)));
    }

    /** Whether a problem is that an entry is not allowed, on which a person has decided. */
    public boolean settles(Problem problem) {
        boolean ofEntry = problem.code() == ProblemCode.RESPONSE_NOT_ALLOWED
                || problem.code() == ProblemCode.SIDE_NOT_KNOWN
                || problem.code() == ProblemCode.DATE_IN_FUTURE
                || problem.code() == ProblemCode.DATE_LONG_AGO;
        return ofEntry
                && problem.place().row().isPresent()
                && problem.place().column().stream()
                        .map(Cells::heading)
                        .map(heading -> headings.headings().getOrDefault(heading, heading))
                        .anyMatch(column -> spots.contains(new Spot(
                                problem.place().file(), problem.place().row().getAsInt(), column)));
    }
}
