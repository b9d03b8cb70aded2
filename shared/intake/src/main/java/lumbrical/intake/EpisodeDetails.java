package lumbrical.intake;

import java.time.LocalDate;
import java.util.Arrays;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.OptionalInt;
import java.util.function.Consumer;
import lumbrical.followup.Episode;
import lumbrical.instrument.Side;
import lumbrical.problem.Place;
import lumbrical.problem.Problem;
import lumbrical.problem.ProblemCode;
import lumbrical.problem.Remedy;
import lumbrical.tabular.Cells;
import lumbrical.tabular.Dates;
import lumbrical.tabular.SimpleTable;

/** The optional columns of an episode: anything not allowed there is told and counts as blank. */
final class EpisodeDetails {
    static final List<String> REASONS = List.of("died", "withdrawn", "moved", "revision", "other");

    private static final String UNDATED = "Nothing is asked for any more, at any visit.";

    private final ReadOptions options;
    private final Dates dates;
    private final Consumer<Problem> problems;
    private final DateStyleCheck closedStyle;

    EpisodeDetails(ReadOptions options, Consumer<Problem> problems) {
        this.options = options;
        this.dates = Dates.of(options.dateFormat());
        this.problems = problems;
        this.closedStyle = new DateStyleCheck(options.dateFormat(), "closed_on");
    }

    private void problem(Place place, String value, ProblemCode code, String advice) {
        problems.accept(new Problem(place, Cells.printable(value), code, advice));
    }

    /** The problem of a side that is not known, with how the clinic's own word for it can be read. */
    static Problem withOwnWord(Problem problem, String column, String text) {
        return text.isEmpty()
                ? problem
                : problem.mendedBy(new Remedy(Remedy.Kind.MAP_SIDES, column + "," + Cells.printable(text)));
    }

    /** Tells what is to be told of the column of closing as a whole. */
    void endOfFile(Place file) {
        closedStyle.problem(file).ifPresent(problems);
    }

    /** The dominant side; {@code both} for who uses either hand. */
    Optional<Side> dominantSide(SimpleTable.Row row) {
        Optional<String> text = row.filled("dominant_side");
        Optional<Side> side = text.flatMap(t -> Side.parse(options.codes().codeOf("dominant_side", "side", t)));
        if (text.isPresent() && side.isEmpty()) {
            problems.accept(withOwnWord(
                    new Problem(
                            row.place().in("dominant_side"),
                            Cells.printable(text.get()),
                            ProblemCode.SIDE_NOT_KNOWN,
                            "The dominant side is taken as blank. Write right, left or both."),
                    "dominant_side",
                    text.get()));
        }
        return side;
    }

    /** {@code female}, {@code male}, {@code other} or {@code unknown}. */
    Optional<String> sex(SimpleTable.Row row) {
        Optional<String> text = row.filled("sex");
        Optional<String> sex = text.flatMap(
                t -> switch (options.codes().codeOf("sex", "sex", t).toLowerCase(Locale.ROOT)) {
                    case "f", "female" -> Optional.of("female");
                    case "m", "male" -> Optional.of("male");
                    case "other" -> Optional.of("other");
                    case "unknown" -> Optional.of("unknown");
                    default -> Optional.empty();
                });
        if (text.isPresent() && sex.isEmpty()) {
            problem(
                    row.place().in("sex"),
                    text.get(),
                    ProblemCode.VALUE_NOT_ALLOWED,
                    "The sex is taken as blank. Write female, male, other or unknown (f, m).");
        }
        return sex;
    }

    OptionalInt birthYear(SimpleTable.Row row, Optional<LocalDate> index) {
        if (row.get("birth_year").isEmpty()) {
            return OptionalInt.empty();
        }
        OptionalDouble number = Cells.number(row.get("birth_year"));
        int latest = options.asOf().getYear();
        if (number.isEmpty()
                || number.getAsDouble() != Math.rint(number.getAsDouble())
                || number.getAsDouble() < 1880
                || number.getAsDouble() > latest) {
            problem(
                    row.place().in("birth_year"),
                    "",
                    ProblemCode.VALUE_NOT_ALLOWED,
                    "The year of birth is taken as blank. Write four digits, from 1880 to " + latest + ".");
            return OptionalInt.empty();
        }
        int year = (int) number.getAsDouble();
        if (index.isPresent() && index.get().getYear() < year) {
            problem(
                    row.place().in("index_date"),
                    index.get().toString(),
                    ProblemCode.DATE_BEFORE_BIRTH,
                    "The index date lies before the year of birth. Correct one of them.");
        }
        return OptionalInt.of(year);
    }

    /** The end of the episode; one before the index date is told, and closes nothing. */
    Optional<Episode.Closure> closure(SimpleTable.Row row, Optional<LocalDate> index) {
        String reason = reason(row);
        Optional<Dates.Moment> moment = row.filled("closed_on").flatMap(dates::parse);
        Optional<LocalDate> on = moment.map(Dates.Moment::day);
        if (row.filled("closed_on").isPresent()) {
            closedStyle.see(row.get("closed_on"), moment);
        }
        if (on.isEmpty() && row.filled("closed_on").isPresent()) {
            problems.accept(DateAdvice.problem(
                    row.place().in("closed_on"),
                    row.get("closed_on"),
                    reason.isEmpty() ? "The episode counts as open." : UNDATED,
                    options.dateFormat()));
        } else if (on.isEmpty() && !reason.isEmpty()) {
            problem(
                    row.place().in("closed_on"),
                    "",
                    ProblemCode.CLOSED_ON_MISSING,
                    "closed_reason says that the episode has ended (" + reason + "), and the day is missing. " + UNDATED
                            + " Fill in closed_on, or empty closed_reason.");
        }
        if (on.isEmpty() && !reason.isEmpty()) {
            return Optional.of(new Episode.Closure(Optional.empty(), reason));
        }
        if (on.isPresent() && index.isPresent() && on.get().isBefore(index.get())) {
            problem(
                    row.place().in("closed_on"),
                    on.get().toString(),
                    ProblemCode.CLOSED_BEFORE_INDEX,
                    "The day of closing lies before the index date, so the episode counts as open. Correct one of them.");
            return Optional.empty();
        }
        return on.map(day -> new Episode.Closure(day, reason));
    }

    private String reason(SimpleTable.Row row) {
        String reason = row.get("closed_reason").toLowerCase(Locale.ROOT);
        if (reason.isEmpty() || REASONS.contains(reason)) {
            return reason;
        }
        problem(
                row.place().in("closed_reason"),
                reason,
                ProblemCode.VALUE_NOT_ALLOWED,
                "Taken as other. Write one of " + String.join(", ", REASONS) + ".");
        return "other";
    }

    boolean share(SimpleTable.Row row) {
        String text = row.get("share").toLowerCase(Locale.ROOT);
        if (Arrays.asList("", "yes", "y").contains(text)) {
            return true;
        }
        if (!Arrays.asList("no", "n").contains(text)) {
            problem(
                    row.place().in("share"),
                    text,
                    ProblemCode.VALUE_NOT_ALLOWED,
                    "Taken as no, so that nothing leaves the house by mistake. Write yes or no.");
        }
        return false;
    }
}
