package lumbrical.command;

import java.io.PrintWriter;
import java.time.DateTimeException;
import java.time.LocalDate;
import java.util.ArrayList;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Optional;
import java.util.Set;
import java.util.function.Function;
import java.util.stream.Collectors;
import java.util.stream.Stream;
import lumbrical.followup.PlacedForm;
import lumbrical.instrument.Instrument;
import lumbrical.output.OutputFile;
import lumbrical.scoring.Explanation;
import lumbrical.scoring.ScoringPlan;
import lumbrical.sitting.ScoredForm;

final class ExplainCommand implements Command {
    private final Console console;
    private final Positional instrumentId = Positional.of("INSTRUMENT", "0", "1", "Instrument id.");
    private final Positional files = Positional.read(
            "RESPONSES", "1..*", "1..*", "CSV or XLSX files, or QuestionnaireResponses in FHIR R4 (JSON, NDJSON).");
    private final TextOption patientId = TextOption.required("--patient", "P", "The patient's id.");
    private final TextOption on = TextOption.of("--on", "DATE", "Day of the form (default: every form).");
    private final ClinicReading clinic = new ClinicReading();
    private final ReadingOptions reading = new ReadingOptions();
    private final OutputOptions output = new OutputOptions();

    ExplainCommand(Console console) {
        this.console = console;
    }

    @Override
    public List<String> description() {
        return List.of(
                "The arithmetic of a patient's scores, step by step, with its source; with --episodes also of the change.");
    }

    @Override
    public Stream<CliOption> options() {
        return Stream.of(
                        Stream.of(instrumentId, files, patientId, on),
                        clinic.options(),
                        reading.options(),
                        output.options())
                .flatMap(Function.identity());
    }

    @Override
    public int call() {
        Optional<OutputFile> target = output.textFile();
        Optional<OutputFile> problemsFile = output.problemsFile();
        Instrument instrument = InstrumentsCommand.find(reading.catalogue(), instrumentId.value());
        String patient = patientId.value().orElse("");
        Optional<LocalDate> day = on.value().map(ExplainCommand::day);
        ProblemList problems = new ProblemList();
        Progress progress = new Progress(console, reading.inputs(files.values()));
        ClinicReading.Read read =
                clinic.readIfNamed(files.values(), reading, List.of(), problems, new Timings(progress));
        progress.end();
        List<ScoredForm> ofPatient = read.result().followUp().forms().stream()
                .map(PlacedForm::form)
                .filter(f ->
                        f.sitting().patient().equals(patient) && !f.responses().blank())
                .distinct()
                .toList();
        List<ScoredForm> wanted = ofPatient.stream()
                .filter(f -> f.instrument().id().equals(instrument.id()))
                .filter(f -> day.isEmpty() || f.sitting().completedOn().equals(day.get()))
                .toList();
        if (wanted.isEmpty()) {
            Set<String> patients = read.result().followUp().forms().stream()
                    .map(PlacedForm::form)
                    .map(f -> f.sitting().patient())
                    .collect(Collectors.toCollection(LinkedHashSet::new));
            throw new UsageException(nothing(instrument, patient, day, ofPatient, patients));
        }
        List<String> lines = new ArrayList<>();
        for (ScoredForm form : wanted) {
            explain(form, form.instrument(), lines);
        }
        read.result()
                .followUp()
                .changes()
                .filter(c -> c.followUp().form().sitting().patient().equals(patient)
                        && c.followUp().form().instrument().id().equals(instrument.id()))
                .filter(c -> day.isEmpty()
                        || c.followUp().form().sitting().completedOn().equals(day.get()))
                .forEach(c -> lines.addAll(ExplainedChange.lines(c)));
        lines.add("Scores support and never replace clinical judgement.");
        if (target.isPresent()) {
            target.get().writeText(out -> print(lines, new PrintWriter(out)));
        } else {
            print(lines, console.out());
        }
        problems.write(problemsFile, output);
        problems.print(console, output.quiet());
        RunSummary.print(console, read.result(), output.quiet());
        return problems.status();
    }

    /** Why there is nothing to explain, and what there is. */
    private static String nothing(
            Instrument instrument,
            String patient,
            Optional<LocalDate> day,
            List<ScoredForm> ofPatient,
            Set<String> patients) {
        String start = "No " + instrument.id() + " of patient " + patient
                + day.map(d -> " on " + d).orElse("") + " in these files. ";
        if (ofPatient.isEmpty()) {
            return start
                    + PatientIds.meant(patient, patients)
                            .map(other -> "Did you mean '" + other + "'?")
                            .orElse("No form of this patient is there at all. Check the id.");
        }
        return start + "There is: "
                + ofPatient.stream()
                        .map(f -> f.instrument().id() + " on " + f.sitting().dayInWords())
                        .distinct()
                        .collect(Collectors.joining(", "))
                + ".";
    }

    private static LocalDate day(String text) {
        try {
            return LocalDate.parse(text);
        } catch (DateTimeException e) {
            throw new UsageException("--on " + text + ": write the date as 2026-03-09.");
        }
    }

    private static void print(List<String> lines, PrintWriter out) {
        lines.forEach(out::println);
        out.flush();
    }

    private void explain(ScoredForm form, Instrument instrument, List<String> lines) {
        lines.add("Patient " + form.sitting().patient() + ", " + form.sitting().dayInWords()
                + form.sitting().side().map(s -> ", side " + s.code()).orElse("") + " ("
                + form.sitting().place() + ")");
        ScoringPlan plan = ScoringPlan.of(instrument, reading.scoring());
        List<Explanation> explanations =
                Explanation.of(plan, form.responses(), form.sitting().side());
        if (explanations.isEmpty()) {
            lines.add("  no scale: read item by item");
        }
        explanations.forEach(e -> lines.addAll(e.lines()));
        instrument.facts().notes().forEach(n -> lines.add("  note: " + n));
        lines.add("");
    }
}
