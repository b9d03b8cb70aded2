package lumbrical.command;

import java.util.List;
import java.util.Optional;
import java.util.Set;
import java.util.function.Function;
import java.util.stream.Stream;
import lumbrical.clinic.ClinicResult;
import lumbrical.followup.PlacedForm;
import lumbrical.output.OutputFile;
import lumbrical.report.PatientPages;
import lumbrical.report.ReportContent;

final class PageCommand implements Command {
    private final Console console;
    private final Positional files = Positional.responses();
    private final ClinicReading clinic = new ClinicReading();
    private final ListOption patients = ListOption.repeated(
            "--patient",
            "P",
            "Only this patient (default: the clinic, with a list to search); may be given several times.");
    private final ReadingOptions reading = new ReadingOptions();
    private final OutputOptions output = new OutputOptions();

    PageCommand(Console console) {
        this.console = console;
    }

    @Override
    public List<String> description() {
        return List.of(
                "Patients' pages for a browser and for print: one patient on one sheet, one clinic in one file.",
                "The file needs no network and no other file.");
    }

    @Override
    public Stream<CliOption> options() {
        return Stream.of(Stream.of(files), clinic.options(), Stream.of(patients), reading.options(), output.options())
                .flatMap(Function.identity());
    }

    @Override
    public int call() {
        OutputFile target = output.file(OutputOptions.Ending.HTML)
                .orElseThrow(
                        () -> new UsageException("--out is missing. Name the file to write, such as --out page.html."));
        Optional<OutputFile> problemsFile = output.problemsFile();
        ProblemList problems = new ProblemList();
        Progress progress = new Progress(console, reading.inputs(files.values()));
        ClinicReading.Read read = clinic.read(files.values(), reading, problems, new Timings(progress));
        ReportContent content = new ReportContent(
                read.result().followUp(), read.result().choice(), reading.scoring(), read.reportOrigin());
        List<String> wanted = patients.values();
        Set<String> known = PatientPages.patients(content);
        for (String patient : wanted) {
            if (!known.contains(patient)) {
                throw new UsageException(unknown(patient, known, read.result()));
            }
        }
        progress.stage("writing the page");
        target.writeText(out -> {
            if (wanted.isEmpty()) {
                PatientPages.writeClinic(content, out);
            } else {
                PatientPages.writePatients(content, wanted, out);
            }
        });
        progress.end();
        problems.write(problemsFile, output);
        problems.print(console, output.quiet());
        RunSummary.print(console, read.result(), output.quiet());
        if (!output.quiet()) {
            console.say(GripCommand.CAUTION);
            console.say("written: " + target.target().getFileName());
        }
        return problems.status();
    }

    private static String unknown(String patient, Set<String> known, ClinicResult result) {
        String start = "--patient " + patient + ": no episode of this patient is in the table of episodes. ";
        Optional<String> meant = PatientIds.meant(patient, known);
        if (meant.isPresent()) {
            return start + "Did you mean '" + meant.get() + "'?";
        }
        boolean forms = result.followUp().forms().stream()
                .map(PlacedForm::form)
                .anyMatch(f -> f.sitting().patient().equals(patient));
        return start
                + (forms
                        ? "There are forms of this patient: add the episode."
                        : "No form of this patient is there either. Check the id.");
    }
}
