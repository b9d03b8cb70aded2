package lumbrical.intake;

import java.time.LocalDate;
import java.util.ArrayList;
import java.util.HashSet;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalInt;
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
    private final DateStyleCheck indexStyle;
    private final EpisodeDetails details;
    private final List<Problem> problems = new ArrayList<>();

    /**
     * Episodes as read.
     *
     * @param episodes in the order of the file
     * @param problems what is wrong in it
     * @param unusedColumns headings that mean nothing here and are not carried
     * @param headings headings of the table, by our names where the clinic's own are mapped
     * @param rows rows read
     * @param file the file
     */
    public record Episodes(
            List<Episode> episodes,
            List<Problem> problems,
            List<String> unusedColumns,
            List<String> headings,
            int rows,
            InputFile file) {
        /** Copies the lists. */
        public Episodes {
            episodes = List.copyOf(episodes);
            problems = List.copyOf(problems);
            unusedColumns = List.copyOf(unusedColumns);
            headings = List.copyOf(headings);
        }
    }

    private EpisodeReader(Catalogue catalogue, ReadOptions options) {
        this.catalogue = catalogue;
        this.options = options;
        this.dates = Dates.of(options.dateFormat());
        this.indexStyle = new DateStyleCheck(options.dateFormat(), "index_date");
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
        reader.details.endOfFile(input.place());
        reader.indexStyle.problem(input.place()).ifPresent(reader.problems::add);
        if (table.rows().isEmpty()) {
            reader.problem(
                    input.place(),
                    "",
                    ProblemCode.NOTE_NO_ROWS,
                    "The table of episodes has headings and no rows below them. Is it the right file?");
        }
        return new Episodes(
                episodes,
                reader.problems,
                unusedColumns,
                table.headings(),
                table.rows().size(),
                InputFile.of(input));
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

    /** The episode of a row; empty if it is not used. All faults of the row are told, whichever it is. */
    private Optional<Episode> episode(SimpleTable.Row row) {
        boolean used = true;
        if (row.tooMany()) {
            used = false;
            problem(
                    row.place(),
                    "",
                    ProblemCode.TOO_MANY_CELLS,
                    "The episode is not used: the row has more filled cells than the header has columns.");
        }
        if (row.get("patient").isEmpty()) {
            used = false;
            problem(
                    row.place().in("patient"),
                    "",
                    ProblemCode.PATIENT_MISSING,
                    "The episode is not used. Fill in the patient's id.");
        }
        if (row.get("episode").isEmpty()) {
            used = false;
            problem(
                    row.place().in("episode"),
                    "",
                    ProblemCode.EPISODE_MISSING,
                    "The episode is not used. Give it a name, unique within the patient.");
        }
        Optional<Side> treated = side(row, "treated_side").filter(s -> s != Side.BOTH);
        if (treated.isEmpty()) {
            String text = row.get("treated_side");
            Problem fault = new Problem(
                    row.place().in("treated_side"),
                    Cells.printable(text),
                    ProblemCode.SIDE_NOT_KNOWN,
                    "The episode is not used. Write right or left; two treated sides are two episodes.");
            problems.add(EpisodeDetails.withOwnWord(fault, "treated_side", text));
        }
        Optional<LocalDate> index = indexDate(row);
        Optional<Side> dominant = details.dominantSide(row);
        Optional<String> sex = details.sex(row);
        OptionalInt birthYear = details.birthYear(row, index);
        List<InstrumentId> forms = forms(row);
        Optional<Episode.Closure> closure = details.closure(row, index);
        boolean share = details.share(row);
        if (!used || treated.isEmpty()) {
            return Optional.empty();
        }
        return Optional.of(new Episode(
                row.get("patient"),
                row.get("episode"),
                treated.get(),
                index,
                dominant,
                sex,
                birthYear,
                row.filled("condition"),
                row.filled("procedure"),
                forms,
                closure,
                share,
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
        String text = row.get(column);
        Optional<Dates.Moment> moment = row.filled(column).flatMap(dates::parse);
        if (!text.isEmpty()) {
            indexStyle.see(text, moment);
        }
        Optional<LocalDate> day = moment.map(Dates.Moment::day);
        if (day.isEmpty() && !text.isEmpty()) {
            problems.add(DateAdvice.problem(row.place().in(column), text, consequence, options.dateFormat()));
        }
        day.filter(on -> on.isBefore(options.firstPlausibleDay()))
                .ifPresent(on -> problem(
                        row.place().in(column),
                        on.toString(),
                        ProblemCode.DATE_LONG_AGO,
                        "The treatment would have begun on " + on
                                + ", about 100 years ago or more. Look it up and correct the year."));
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
