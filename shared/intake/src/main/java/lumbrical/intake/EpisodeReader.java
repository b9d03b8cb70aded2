package lumbrical.intake;

import java.time.LocalDate;
import java.util.ArrayList;
import java.util.HashSet;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.stream.Stream;
import lumbrical.catalogue.Catalogue;
import lumbrical.followup.Episode;
import lumbrical.instrument.InstrumentId;
import lumbrical.instrument.Side;
import lumbrical.problem.Place;
import lumbrical.problem.Problem;
import lumbrical.problem.ProblemCode;
import lumbrical.problem.Remedy;
import lumbrical.tabular.Cells;
import lumbrical.tabular.Dates;
import lumbrical.tabular.Input;
import lumbrical.tabular.InputFile;
import lumbrical.tabular.SimpleTable;
import lumbrical.tabular.UnreadableInputException;

/** Reads the table of episodes. */
public final class EpisodeReader {
    private static final List<String> REQUIRED = List.of("patient", "episode", "treated_side", "index_date");
    private static final List<String> OPTIONAL = List.of(
            "dominant_side",
            "sex",
            "birth_year",
            "condition",
            "procedure",
            "forms",
            "closed_on",
            "closed_reason",
            "share");

    private final ReadOptions options;
    private final Catalogue catalogue;
    private final Dates dates;
    private final EpisodeDetails details;
    private final List<Problem> problems = new ArrayList<>();

    /**
     * Episodes as read.
     *
     * @param episodes in the order of the file
     * @param problems what is wrong in it
     * @param unusedColumns headings that mean nothing here and are not carried
     * @param rows rows read
     * @param file the file
     */
    public record Episodes(
            List<Episode> episodes, List<Problem> problems, List<String> unusedColumns, int rows, InputFile file) {
        /** Copies the lists. */
        public Episodes {
            episodes = List.copyOf(episodes);
            problems = List.copyOf(problems);
            unusedColumns = List.copyOf(unusedColumns);
        }
    }

    private EpisodeReader(Catalogue catalogue, ReadOptions options) {
        this.catalogue = catalogue;
        this.options = options;
        this.dates = Dates.of(options.dateFormat());
        this.details = new EpisodeDetails(options, problems::add);
    }

    /**
     * Reads the episodes in {@code input}.
     *
     * @throws UnreadableInputException if it cannot be read or lacks a required column, or a column to carry is not there
     */
    public static Episodes read(Input input, Catalogue catalogue, ReadOptions options) {
        SimpleTable table = SimpleTable.read(
                input, options.encoding(), REQUIRED, options.columns().headings());
        EpisodeReader reader = new EpisodeReader(catalogue, options);
        for (String carried : options.carry()) {
            if (!table.headings().contains(carried.toLowerCase(Locale.ROOT))) {
                throw new UnreadableInputException(
                        input.place(),
                        "there is no column '" + Cells.printable(carried) + "' to take along. Columns are "
                                + String.join(", ", table.headings()) + ".",
                        List.of(Remedy.of(Remedy.Kind.CARRY)));
            }
        }
        List<Episode> episodes = new ArrayList<>();
        Set<List<String>> keys = new HashSet<>();
        for (SimpleTable.Row row : table.rows()) {
            row.notCalculated().stream()
                    .filter(EpisodeReader::isKnown)
                    .forEach(heading -> reader.problem(
                            row.place().in(heading),
                            "",
                            ProblemCode.FORMULA_NOT_CALCULATED,
                            FormulaAdvice.TAKEN_AS_BLANK));
            reader.episode(row).ifPresent(episode -> {
                if (keys.add(List.of(episode.patient(), episode.id()))) {
                    episodes.add(episode);
                } else {
                    reader.problem(
                            row.place().in("episode"),
                            episode.id(),
                            ProblemCode.EPISODE_TWICE,
                            "The patient has an episode of this name already; this row is not used. Give it a name of its own.");
                }
            });
        }
        List<String> unusedColumns = table.headings().stream()
                .filter(h -> !h.isEmpty() && !REQUIRED.contains(h) && !OPTIONAL.contains(h))
                .filter(h -> options.carry().stream().noneMatch(c -> c.equalsIgnoreCase(h)))
                .map(Cells::printable)
                .toList();
        return new Episodes(
                episodes, reader.problems, unusedColumns, table.rows().size(), InputFile.of(input));
    }

    /**
     * Headings of the table in {@code input}, in lower case.
     *
     * @throws UnreadableInputException if it cannot be read or lacks a required column
     */
    public static List<String> headings(Input input, ReadOptions options) {
        return SimpleTable.read(
                        input, options.encoding(), REQUIRED, options.columns().headings())
                .headings()
                .stream()
                .filter(h -> !h.isEmpty())
                .toList();
    }

    /** Why an episode may be closed, as {@code closed_reason} says it. */
    public static List<String> closureReasons() {
        return EpisodeDetails.REASONS;
    }

    /** The columns of the table of episodes, those that it must have first. */
    public static List<String> columns() {
        return Stream.concat(REQUIRED.stream(), OPTIONAL.stream()).toList();
    }

    /** Whether the table of episodes has a meaning for a heading, so that it is never carried. */
    public static boolean isKnown(String heading) {
        String lower = heading.toLowerCase(Locale.ROOT);
        return REQUIRED.contains(lower) || OPTIONAL.contains(lower);
    }

    private void problem(Place place, String value, ProblemCode code, String advice) {
        problems.add(new Problem(place, Cells.printable(value), code, advice));
    }

    private Optional<Episode> episode(SimpleTable.Row row) {
        if (row.tooMany()) {
            problem(
                    row.place(),
                    "",
                    ProblemCode.TOO_MANY_CELLS,
                    "The episode is not used: the row has more filled cells than the header has columns.");
            return Optional.empty();
        }
        if (row.get("patient").isEmpty()) {
            problem(
                    row.place().in("patient"),
                    "",
                    ProblemCode.PATIENT_MISSING,
                    "The episode is not used. Fill in the patient's id.");
            return Optional.empty();
        }
        if (row.get("episode").isEmpty()) {
            problem(
                    row.place().in("episode"),
                    "",
                    ProblemCode.EPISODE_MISSING,
                    "The episode is not used. Give it a name, unique within the patient.");
            return Optional.empty();
        }
        Optional<Side> treated = side(row, "treated_side").filter(s -> s != Side.BOTH);
        if (treated.isEmpty()) {
            problem(
                    row.place().in("treated_side"),
                    row.get("treated_side"),
                    ProblemCode.SIDE_NOT_KNOWN,
                    "The episode is not used. Write right or left; two treated sides are two episodes.");
            return Optional.empty();
        }
        Optional<LocalDate> index = indexDate(row);
        return Optional.of(new Episode(
                row.get("patient"),
                row.get("episode"),
                treated.get(),
                index,
                details.dominantSide(row),
                details.sex(row),
                details.birthYear(row, index),
                row.filled("condition"),
                row.filled("procedure"),
                forms(row),
                details.closure(row, index),
                details.share(row),
                carried(row),
                row.place()));
    }

    private Optional<Side> side(SimpleTable.Row row, String column) {
        return row.filled(column).flatMap(text -> Side.parse(options.codes().codeOf(column, "side", text)));
    }

    private Optional<LocalDate> indexDate(SimpleTable.Row row) {
        String text = row.get("index_date");
        if (text.isEmpty()) {
            problem(
                    row.place().in("index_date"),
                    "",
                    ProblemCode.INDEX_DATE_MISSING,
                    "Nothing of this episode is placed in time. Fill in the day of operation or treatment start.");
            return Optional.empty();
        }
        return day(row, "index_date", "Nothing of this episode is placed in time.");
    }

    private Optional<LocalDate> day(SimpleTable.Row row, String column, String consequence) {
        Optional<LocalDate> day = row.filled(column).flatMap(dates::parse).map(Dates.Moment::day);
        if (day.isEmpty() && row.filled(column).isPresent()) {
            problems.add(DateAdvice.problem(row.place().in(column), row.get(column), consequence));
        }
        return day;
    }

    private List<InstrumentId> forms(SimpleTable.Row row) {
        List<InstrumentId> forms = new ArrayList<>();
        for (String id : row.get("forms").toLowerCase(Locale.ROOT).split("[\\s,;]+")) {
            if (id.isEmpty()) {
                continue;
            }
            if (catalogue.find(id).isPresent()) {
                forms.add(new InstrumentId(id));
            } else {
                problem(
                        row.place().in("forms"),
                        id,
                        ProblemCode.INSTRUMENT_NOT_KNOWN,
                        "This form is not expected of the episode: no such instrument. Correct the id.");
            }
        }
        return forms;
    }

    private Map<String, String> carried(SimpleTable.Row row) {
        Map<String, String> carried = new LinkedHashMap<>();
        options.carry().forEach(c -> carried.put(c, row.get(c.toLowerCase(Locale.ROOT))));
        return carried;
    }
}
