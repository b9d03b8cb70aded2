package lumbrical.command;

import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.function.BiFunction;
import java.util.stream.Stream;
import lumbrical.catalogue.Catalogue;
import lumbrical.clinic.ClinicAnalysis;
import lumbrical.clinic.ClinicFiles;
import lumbrical.clinic.ClinicOnDemand;
import lumbrical.clinic.ClinicResult;
import lumbrical.followup.EpisodeSink;
import lumbrical.followup.FollowUpSource;
import lumbrical.report.ReportOrigin;
import lumbrical.tabular.Input;
import lumbrical.workbook.RunRecord;

/** Options of every command that looks at episodes, and the call of the library that reads and analyses them. */
final class ClinicReading {
    private final TextOption episodes = TextOption.read("--episodes", "E", "The table of episodes.");
    private final TextOption schedule = TextOption.read("--schedule", "S", "The visits (default: a common schedule).");
    private final TextOption thresholds = TextOption.read(
            "--thresholds", "CHOICE.csv", "Your choice of thresholds: instrument,scale,condition,threshold_id.");
    private final TextOption conditions =
            TextOption.read("--conditions", "MAP.csv", "Your own names of conditions: text,condition.");
    private final ListOption carry =
            ListOption.of("--carry", "COLUMN", "Columns of the episodes to take along, separated by commas.");

    Stream<CliOption> options() {
        return Stream.of(episodes, schedule, thresholds, conditions, carry);
    }

    /**
     * All that was read and found.
     *
     * @param catalogue the instruments
     * @param result what the files say
     * @param options the options that shape content, in words
     */
    record Read(Catalogue catalogue, ClinicResult result, List<String> options) {
        /** Where an output comes from. */
        RunRecord runRecord() {
            return new RunRecord(
                    Main.VERSION, result.files(), options, result.counts().reconciliation());
        }

        /** Where a page comes from. */
        ReportOrigin reportOrigin() {
            return new ReportOrigin(
                    Main.VERSION, result.files(), options, result.counts().reconciliation());
        }
    }

    /** The table of episodes. */
    Input episodes() {
        return episodesIfNamed()
                .orElseThrow(() -> new UsageException(
                        "--episodes is missing. Name the table of episodes, such as --episodes episodes.csv."));
    }

    /** The table of episodes, for a command that can do without. */
    Optional<Input> episodesIfNamed() {
        return file(episodes).filter(input -> !input.name().isEmpty());
    }

    private static Optional<Input> file(TextOption option) {
        return option.value().filter(name -> !name.isEmpty()).map(name -> Input.parse(name, Optional.empty()));
    }

    /** Reads and analyses; what is told goes to {@code problems}. */
    Read read(List<String> files, ReadingOptions reading, ProblemList problems, Timings timings) {
        episodes();
        return readIfNamed(files, reading, List.of(), problems, timings);
    }

    /**
     * As {@link #read}, also without a table of episodes.
     *
     * @param alsoCarry columns of the episodes to take along besides those that the user asked for
     */
    Read readIfNamed(
            List<String> files, ReadingOptions reading, List<String> alsoCarry, ProblemList problems, Timings timings) {
        return read(
                files,
                reading,
                alsoCarry,
                problems,
                reading.catalogue(),
                (clinic, catalogue) -> ClinicAnalysis.analyse(clinic, catalogue, timings));
    }

    /**
     * All that was read and found, where the clinic need not be held whole.
     *
     * @param episodes each judged whenever it is asked for
     */
    record OnDemand(Read read, FollowUpSource episodes) {}

    /** As {@link #readIfNamed}, for a clinic whose episodes are needed again and again and need not be held. */
    OnDemand onDemand(
            List<String> files, ReadingOptions reading, List<String> alsoCarry, ProblemList problems, Timings timings) {
        List<ClinicOnDemand> made = new ArrayList<>(1);
        Read read = read(files, reading, alsoCarry, problems, reading.catalogue(), (clinic, catalogue) -> {
            made.add(ClinicAnalysis.onDemand(clinic, catalogue, timings));
            return made.get(0).result();
        });
        return new OnDemand(read, made.get(0).episodes());
    }

    /** As {@link #readIfNamed}, for a clinic that need not be held whole: its episodes go to the sink. */
    Read readInto(
            EpisodeSink sink,
            Catalogue catalogue,
            List<String> files,
            ReadingOptions reading,
            List<String> alsoCarry,
            ProblemList problems,
            Timings timings) {
        return read(
                files,
                reading,
                alsoCarry,
                problems,
                catalogue,
                (clinic, c) -> ClinicAnalysis.analyse(clinic, c, timings, sink));
    }

    private Read read(
            List<String> files,
            ReadingOptions reading,
            List<String> alsoCarry,
            ProblemList problems,
            Catalogue catalogue,
            BiFunction<ClinicFiles, Catalogue, ClinicResult> analysis) {
        List<String> taken = new ArrayList<>(carry.values());
        alsoCarry.stream()
                .filter(column -> taken.stream().noneMatch(column::equalsIgnoreCase))
                .forEach(taken::add);
        ClinicFiles clinic = new ClinicFiles(
                reading.inputs(files),
                episodesIfNamed(),
                file(schedule),
                file(thresholds),
                file(conditions),
                reading.readOptions(taken),
                reading.scoring());
        ClinicResult result = analysis.apply(clinic, catalogue);
        result.responseProblems().forEach(problems);
        result.otherProblems().forEach(problems);
        List<String> words = new ArrayList<>(reading.contentOptions());
        if (!carry.values().isEmpty()) {
            words.add("--carry " + String.join(",", carry.values()));
        }
        return new Read(catalogue, result, words);
    }
}
