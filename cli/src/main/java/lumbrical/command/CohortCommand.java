package lumbrical.command;

import java.nio.file.Path;
import java.time.LocalDate;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import java.util.OptionalInt;
import java.util.function.Function;
import java.util.stream.Stream;
import lumbrical.catalogue.Catalogue;
import lumbrical.cohort.CohortCollector;
import lumbrical.cohort.CohortFault;
import lumbrical.cohort.CohortRequest;
import lumbrical.cohort.CohortResult;
import lumbrical.cohort.CommonMdcs;
import lumbrical.columns.AttritionColumns;
import lumbrical.columns.CohortGroupColumns;
import lumbrical.columns.CompareColumns;
import lumbrical.columns.EcdfColumns;
import lumbrical.columns.FlowColumns;
import lumbrical.columns.OwnMcidColumns;
import lumbrical.columns.ReliabilityColumns;
import lumbrical.columns.ResponderColumns;
import lumbrical.followup.Episode;
import lumbrical.followup.EpisodeFollowUp;
import lumbrical.followup.EpisodeSink;
import lumbrical.followup.Schedule;
import lumbrical.intake.EpisodeReader;
import lumbrical.output.OutputFile;
import lumbrical.output.OutputFolder;
import lumbrical.report.CohortReport;
import lumbrical.report.CohortReportContent;
import lumbrical.threshold.ThresholdChoice;
import lumbrical.workbook.ClinicWorkbook;
import lumbrical.workbook.CohortWorkbook;

final class CohortCommand implements Command {
    private static final CohortRequest STANDARD = CohortRequest.BY_CONDITION;

    private final Console console;
    private final Positional files = Positional.responses();
    private final ClinicReading clinic = new ClinicReading();
    private final ListOption by = ListOption.of(
            "--by",
            "COLUMN",
            "Group by these columns of the episodes, separated by commas (default: condition); A+B crosses two.");
    private final TextOption compare = TextOption.of(
            "--compare",
            "COLUMN=A,B",
            "Compare two groups, A minus B. A value that holds a comma stands in double quotes.");
    private final TextOption anchor =
            TextOption.of("--anchor", "INSTRUMENT", "Read MCIDs of your own from this rating of change, such as grc.");
    private final TextOption retest = TextOption.of(
            "--retest", "DAYS", "Reliability from pairs of forms of stable patients at most so many days apart.");
    private final FlagOption oneEpisodeEach =
            FlagOption.of("--one-episode-each", "Of each patient only the first episode of a group counts.");
    private final NumberOption smallestGroup = NumberOption.of(
            "--smallest-group", "N", STANDARD.smallestGroup(), "No percentage of fewer than so many (default: 5).");
    private final NumberOption seed = NumberOption.of(
            "--seed", "N", (int) STANDARD.seed(), "Seed of the resamples; the same seed, the same bytes (default: 1).");
    private final TextOption tables =
            TextOption.of("--tables", "DIR", "Also write the tables as CSV into this folder.");
    private final TextOption report = TextOption.written(
            "--report", "REPORT.html", "Also write a report with drawings, for a browser and for print.");
    private final ReadingOptions reading = new ReadingOptions();
    private final OutputOptions output = new OutputOptions();

    CohortCommand(Console console) {
        this.console = console;
    }

    @Override
    public List<String> description() {
        return List.of(
                "Group results: how the patients of a condition, a treatment or a surgeon do, and how sure that is.",
                "Groups that were not randomised differ in more than their treatment.");
    }

    @Override
    public Stream<CliOption> options() {
        return Stream.of(
                        Stream.of(files),
                        clinic.options(),
                        Stream.of(by, compare, anchor, retest, oneEpisodeEach, smallestGroup, seed, tables, report),
                        reading.options(),
                        output.options())
                .flatMap(Function.identity());
    }

    @Override
    public int call() {
        OutputFile target = output.requiredWorkbook("cohort.xlsx");
        Optional<OutputFile> problemsFile = output.problemsFile();
        Optional<OutputFile> reportFile =
                report.value().map(name -> output.at(name, "--report", OutputOptions.Ending.HTML));
        CohortRequest request = request();
        Optional<OutputFolder> folder = tables.value().map(name -> OutputFolder.at(name, output.overwrite()));
        folder.ifPresent(f -> {
            List<String> names = TableFiles.names(tableNames(request));
            f.refuseExisting(names);
            NamedFiles.refuseLoss(
                    options().toList(),
                    tables,
                    names.stream().map(f.path()::resolve).toList());
        });
        if (!NamedFiles.readWorkbook(options().toList())) {
            ClinicWorkbook.prepare();
        }
        ProblemList problems = new ProblemList();
        Progress progress = new Progress(console, reading.inputs(files.values()));
        Timings timings = new Timings(progress);
        Catalogue catalogue = reading.catalogue();
        CohortCollector groups = new CohortCollector(request, catalogue::find);
        CommonMdcs mdcs = new CommonMdcs();
        ClinicReading.Read read = clinic.readInto(
                new BothSinks(groups, mdcs), catalogue, files.values(), reading, carried(request), problems, timings);
        progress.stage("computing the groups");
        CohortResult result = analyse(groups);
        progress.stage("writing the workbook");
        ClinicReading.Read recorded = new ClinicReading.Read(read.catalogue(), read.result(), optionWords(read));
        target.writeWithScratch((out, scratch) -> CohortWorkbook.write(
                result, read.result().followUp().asOf(), problems.all(), recorded.runRecord(), scratch, out));
        folder.ifPresent(f -> writeTables(f, result, request));
        reportFile.ifPresent(file -> {
            progress.stage("writing the report");
            CohortReportContent content = new CohortReportContent(
                    result, mdcs, read.result().followUp().asOf(), request.smallestGroup(), recorded.reportOrigin());
            file.writeText(out -> CohortReport.write(content, out));
        });
        problems.write(problemsFile, output);
        progress.end();
        problems.print(console, output.quiet());
        RunSummary.print(console, read.result(), output.quiet());
        if (!output.quiet()) {
            console.say("Groups that were not randomised differ in more than their treatment.");
            console.say("written: " + name(target)
                    + reportFile.map(f -> ", " + name(f)).orElse(""));
        }
        return problems.status();
    }

    private static String name(OutputFile file) {
        return Optional.ofNullable(file.target().getFileName())
                .map(Path::toString)
                .orElse("");
    }

    /** Each episode for the groups, and for what the report says of errors of measurement. */
    private record BothSinks(EpisodeSink first, EpisodeSink second) implements EpisodeSink {
        @Override
        public void begins(List<Episode> episodes, Schedule schedule, LocalDate asOf, ThresholdChoice choice) {
            first.begins(episodes, schedule, asOf, choice);
            second.begins(episodes, schedule, asOf, choice);
        }

        @Override
        public void accept(EpisodeFollowUp episode) {
            first.accept(episode);
            second.accept(episode);
        }
    }

    private static CohortResult analyse(CohortCollector groups) {
        groups.faults().stream().findFirst().ifPresent(fault -> {
            throw new UsageException(option(fault.kind()) + " " + fault.message());
        });
        return groups.result();
    }

    private static String option(CohortFault.Kind kind) {
        return switch (kind) {
            case GROUPING_UNKNOWN -> "--by";
            case COMPARED_COLUMN_UNKNOWN, COMPARED_VALUE_UNKNOWN, COMPARED_WITH_ITSELF -> "--compare";
            case ANCHOR_UNKNOWN, ANCHOR_IS_NO_RATING -> "--anchor";
        };
    }

    private CohortRequest request() {
        if (smallestGroup.value() < 1) {
            throw new UsageException("--smallest-group " + smallestGroup.value() + ": write a whole number from 1.");
        }
        return CohortRequest.builder()
                .by(
                        by.values().isEmpty()
                                ? STANDARD.by()
                                : by.values().stream().map(String::strip).toList())
                .compare(compare.value().map(CohortCommand::compared))
                .anchor(anchor.value().map(id -> id.strip().toLowerCase(Locale.ROOT)))
                .retestDays(days())
                .oneEpisodeEach(oneEpisodeEach.given())
                .smallestGroup(smallestGroup.value())
                .seed(seed.value())
                .build();
    }

    private OptionalInt days() {
        if (retest.value().isEmpty()) {
            return OptionalInt.empty();
        }
        String text = retest.value().get();
        if (!text.matches("\\d{1,5}")) {
            throw new UsageException("--retest " + text + ": write a whole number of days, such as 14.");
        }
        return OptionalInt.of(Integer.parseInt(text));
    }

    private static CohortRequest.Compare compared(String text) {
        int equals = text.indexOf('=');
        List<String> values = equals < 0 ? List.of() : split(text.substring(equals + 1));
        if (values.size() != 2 || values.stream().anyMatch(String::isBlank)) {
            throw new UsageException("--compare " + text
                    + ": write a column and two of its values, such as --compare \"procedure=open release,endoscopic release\"."
                    + " A value that holds a comma stands in double quotes.");
        }
        return new CohortRequest.Compare(text.substring(0, equals).strip(), values.get(0), values.get(1));
    }

    /** Values between commas; one in double quotes may hold commas, and doubled quotes. */
    private static List<String> split(String text) {
        List<String> values = new ArrayList<>();
        StringBuilder value = new StringBuilder();
        boolean quoted = false;
        for (int i = 0; i < text.length(); i++) {
            char c = text.charAt(i);
            if (c == '"' && quoted && i + 1 < text.length() && text.charAt(i + 1) == '"') {
                value.append(c);
                i++;
            } else if (c == '"') {
                quoted = !quoted;
            } else if (c == ',' && !quoted) {
                values.add(value.toString().strip());
                value.setLength(0);
            } else {
                value.append(c);
            }
        }
        values.add(value.toString().strip());
        return values;
    }

    /** The columns of the episodes to take along, since they are grouped by. */
    private List<String> carried(CohortRequest request) {
        List<String> headings = EpisodeReader.headings(clinic.episodes(), reading.readOptions(List.of()));
        List<String> carried = new ArrayList<>();
        request.by().stream()
                .flatMap(grouping -> Stream.of(grouping.split("\\+", -1)))
                .forEach(column -> carry("--by", column.strip(), headings, carried));
        request.compare().ifPresent(c -> carry("--compare", c.column(), headings, carried));
        return carried;
    }

    private static void carry(String option, String column, List<String> headings, List<String> carried) {
        if (EpisodeReader.isKnown(column) || carried.stream().anyMatch(column::equalsIgnoreCase)) {
            return;
        }
        if (!headings.contains(column.toLowerCase(Locale.ROOT))) {
            throw new UsageException(option + " '" + column + "': the episodes have no such column. Columns are "
                    + String.join(", ", headings) + ".");
        }
        carried.add(column);
    }

    private List<String> optionWords(ClinicReading.Read read) {
        List<String> words = new ArrayList<>(read.options());
        if (!by.values().isEmpty()) {
            words.add("--by " + String.join(",", by.values()));
        }
        compare.value().ifPresent(text -> words.add("--compare " + text));
        anchor.value().ifPresent(text -> words.add("--anchor " + text));
        retest.value().ifPresent(text -> words.add("--retest " + text));
        if (oneEpisodeEach.given()) {
            words.add("--one-episode-each");
        }
        if (smallestGroup.value() != STANDARD.smallestGroup()) {
            words.add("--smallest-group " + smallestGroup.value());
        }
        if (seed.value() != STANDARD.seed()) {
            words.add("--seed " + seed.value());
        }
        return words;
    }

    private static List<String> tableNames(CohortRequest request) {
        List<String> names = new ArrayList<>(
                List.of("groups.csv", "responders.csv", "ecdf.csv", "attrition.csv", "flow.csv", "reliability.csv"));
        request.compare().ifPresent(c -> names.add("compare.csv"));
        request.anchor().ifPresent(a -> names.add("own-mcid.csv"));
        return names;
    }

    private void writeTables(OutputFolder folder, CohortResult result, CohortRequest request) {
        TableFiles files = new TableFiles(folder, output.guard());
        files.write("groups.csv", CohortGroupColumns.TABLE, result.standing().groups());
        files.write("responders.csv", ResponderColumns.TABLE, result.responders());
        files.write("ecdf.csv", EcdfColumns.TABLE, result.ecdf());
        files.write("attrition.csv", AttritionColumns.TABLE, result.standing().attrition());
        files.write("flow.csv", FlowColumns.TABLE, result.standing().flow());
        files.write(
                "reliability.csv",
                ReliabilityColumns.TABLE,
                result.measurement().reliability());
        if (request.compare().isPresent()) {
            files.write("compare.csv", CompareColumns.TABLE, result.compare());
        }
        if (request.anchor().isPresent()) {
            files.write(
                    "own-mcid.csv", OwnMcidColumns.TABLE, result.measurement().ownMcid());
        }
        files.describe();
    }
}
