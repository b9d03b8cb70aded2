package lumbrical.command;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Optional;
import java.util.TreeMap;
import java.util.function.Function;
import java.util.stream.Collectors;
import java.util.stream.Stream;
import lumbrical.catalogue.Catalogue;
import lumbrical.clinic.ClinicResult;
import lumbrical.deidentify.DeIdentifier;
import lumbrical.deidentify.DeidentifiedDataset;
import lumbrical.deidentify.Disclosure;
import lumbrical.deidentify.KeyFile;
import lumbrical.deidentify.KeyFileLock;
import lumbrical.deidentify.Profile;
import lumbrical.deidentify.ProfileReader;
import lumbrical.deidentify.Pseudonyms;
import lumbrical.deidentify.RealPlace;
import lumbrical.deidentify.Sender;
import lumbrical.deidentify.SentRecords;
import lumbrical.deidentify.ThrowawayPseudonyms;
import lumbrical.deidentify.UploadTerms;
import lumbrical.fhir.ExternalCodes;
import lumbrical.intake.EpisodeReader;
import lumbrical.intake.SittingRow;
import lumbrical.output.CsvTableWriter;
import lumbrical.output.OutputFile;
import lumbrical.output.StagedFolder;
import lumbrical.problem.Place;
import lumbrical.problem.Problem;
import lumbrical.problem.ProblemCode;
import lumbrical.registry.ColumnDisposition;
import lumbrical.registry.Intake;
import lumbrical.registry.ManifestCheck;
import lumbrical.registry.RegistryFormat;
import lumbrical.registry.Submission;
import lumbrical.tabular.Input;

final class SubmitCommand implements Command {
    private final Console console;
    private final Positional files = Positional.read(
            "RESPONSES", "0..*", "0..*", "CSV or XLSX files, or QuestionnaireResponses in FHIR R4 (JSON, NDJSON).");
    private final TextOption as = TextOption.of("--as", "fhir|sdtm|adam|csv", "The form of the files.");
    private final ClinicReading clinic = new ClinicReading();
    private final TextOption profile = TextOption.read(
            "--profile",
            "P.json",
            "Which columns may leave and what becomes of dates (default: a strict profile of ours).");
    private final TextOption keyFile = TextOption.written(
            "--key-file", "F", "Random pseudonyms, kept in this file; made if it is not there. Keep it at home.");
    private final FlagOption throwaway = FlagOption.of(
            "--throwaway-pseudonyms", "Without a key file: random pseudonyms that no later upload can match.");
    private final TextOption site =
            TextOption.of("--site", "NAME", "Your clinic, as the receiver calls it (default: SITE01).");
    private final TextOption study = TextOption.of(
            "--study",
            "NAME",
            "The study or registry, as the receiver calls it (default: that of the profile, else STUDY01).");
    private final TextOption terminology = TextOption.read(
            "--terminology", "MAP.csv", "For fhir: codes of LOINC or SNOMED CT to add to ours: our_code,system,code.");
    private final FlagOption lines =
            FlagOption.of("--ndjson", "For fhir: one resource a line (NDJSON) instead of Bundles.");
    private final TextOption previous = TextOption.of(
            "--previous",
            "DIR",
            "The folder sent last, in the same form; what differs now is sent as amended, what is gone is withdrawn. Needed"
                    + " only where the key file does not know what was sent.");
    private final FlagOption gzip = FlagOption.of("--gzip", "Compress the files of data by gzip.");
    private final TextOption k = TextOption.of(
            "--k",
            "N",
            "The smallest group of people alike in what is sent of them (default: that of the profile, else 5).");
    private final FlagOption accept = FlagOption.of(
            "--accept-disclosure",
            "Send although people are in smaller groups, where the law and the receiver's agreement allow it; the manifest"
                    + " says so.");
    private final FlagOption coarsen = FlagOption.of(
            "--coarsen",
            "Leave values blank, person by person, until nobody is in a smaller group: procedure, closure, language, age,"
                    + " side, sex, condition, in this order.");
    private final FlagOption dryRun =
            FlagOption.of("--dry-run", "Show, column by column, what would leave the house; write nothing.");
    private final TextOption check =
            TextOption.of("--check", "DIR", "Verify a folder against its manifest; nothing else.");
    private final ReadingOptions reading = new ReadingOptions();
    private final OutputOptions output = new OutputOptions();

    SubmitCommand(Console console) {
        this.console = console;
    }

    @Override
    public List<String> description() {
        return List.of(
                "Registry upload: a folder of files in an open standard's form, without names, ids, full dates or free text.",
                "De-identified is not anonymous: send only what the law and the agreement with the receiver allow.");
    }

    @Override
    public Stream<CliOption> options() {
        return Stream.of(
                        Stream.of(files, as),
                        clinic.options(),
                        Stream.of(
                                profile,
                                keyFile,
                                throwaway,
                                site,
                                study,
                                k,
                                coarsen,
                                accept,
                                terminology,
                                lines,
                                gzip,
                                previous,
                                dryRun,
                                check),
                        reading.options(),
                        output.options())
                .flatMap(Function.identity());
    }

    @Override
    public int call() {
        if (check.value().isPresent()) {
            return verify(Path.of(check.value().get()));
        }
        if (files.values().isEmpty()) {
            throw new UsageException("No file of responses is named.");
        }
        RegistryFormat format = as.value()
                .flatMap(RegistryFormat::parse)
                .orElseThrow(() -> new UsageException(
                        "--as " + as.value().orElse("is missing") + ": write fhir, sdtm, adam or csv."));
        clinic.episodes();
        if (keyFile.value().isPresent() == throwaway.given() && !(dryRun.given() && !throwaway.given())) {
            throw new UsageException(
                    throwaway.given()
                            ? "--key-file and --throwaway-pseudonyms exclude each other. Leave one of them out."
                            : "--key-file is missing. Add --key-file FILE, a file outside the folder that is sent, made on first"
                                    + " use: with it a later upload gives the same pseudonyms. Or add"
                                    + " --throwaway-pseudonyms, if no later upload is to match this one.");
        }
        StagedFolder folder = StagedFolder.at(output.requiredFolder("upload"), output.overwrite(), Submission.MARK);
        refuseOtherFiles(folder);
        Optional<OutputFile> problemsFile = output.problemsFile();
        problemsFile.ifPresent(file -> refuseWithin(file.target(), folder.path()));
        // nobody else may use the key file until this run has saved it; a trial run saves nothing
        Optional<KeyFileLock> kept =
                keyFile.value().filter(f -> !dryRun.given()).map(f -> KeyFile.keep(f, folder.path()));
        try {
            return submit(format, folder, problemsFile);
        } finally {
            kept.ifPresent(KeyFileLock::close);
        }
    }

    private static void refuseOtherFiles(StagedFolder folder) {
        List<String> others = folder.present().map(ManifestCheck::unlisted).orElse(List.of());
        if (!others.isEmpty()) {
            throw new UsageException(folder.path().getFileName()
                    + ": the folder holds files that its manifest does not list ("
                    + String.join(", ", others.subList(0, Math.min(3, others.size())))
                    + (others.size() > 3 ? " and " + (others.size() - 3) + " more" : "")
                    + "), and they would be lost. Move them elsewhere, or choose another folder.");
        }
    }

    private static void refuseWithin(Path file, Path folder) {
        try {
            if (!RealPlace.isWithin(file, folder)) {
                return;
            }
        } catch (IOException e) {
            throw new UsageException(file.getFileName()
                    + ": it cannot be told where the file of --problems lies. Name it without links.");
        }
        throw new UsageException(file.getFileName()
                + ": the file of --problems lies in the folder that is sent. It tells of rows of the input: keep it"
                + " elsewhere.");
    }

    private int submit(RegistryFormat format, StagedFolder folder, Optional<OutputFile> problemsFile) {
        Profile given = profile.value()
                .map(p -> ProfileReader.read(Input.parse(p, Optional.empty())))
                .orElse(Profile.DEFAULT);
        Profile rules = format.narrowed(given);
        Sender sender = sender(rules);
        Optional<KeyFile> keys = keyFile.value().map(f -> KeyFile.open(f, folder.path()));
        ProblemList problems = new ProblemList();
        Taken taken = read(rules, problems);
        UploadTerms terms = UploadTerms.of(
                        rules, sender, keys.<Pseudonyms>map(f -> f).orElseGet(ThrowawayPseudonyms::new))
                .withThresholds(taken.read().read().result().choice())
                .withSmallestCell(smallestCell(rules));
        DeidentifiedDataset shipment =
                DeIdentifier.prepare(taken.read().episodes(), coarsen.given() ? terms.withCoarsening() : terms);
        if (!dryRun.given() && !accept.given()) {
            refuseDisclosure(shipment.disclosure());
        }
        noteSmallCells(shipment, problems);
        if (dryRun.given()) {
            CsvTableWriter<ColumnDisposition> csv =
                    new CsvTableWriter<>(Submission.FATES, console.out(), output.guard());
            Submission.fates(shipment, taken.intake(), format).forEach(csv::write);
            csv.flush();
        } else {
            Submission.SubmissionSettings settings =
                    settings(format, keys, taken.read().read().catalogue());
            tellCorrections(Submission.write(
                    shipment,
                    taken.intake(),
                    settings,
                    folder,
                    sent -> keys.ifPresent(file -> {
                        file.keepSent(format.code(), sent);
                        file.save();
                    })));
        }
        problems.write(problemsFile, output);
        problems.print(console, output.quiet());
        RunSummary.print(console, taken.read().read().result(), output.quiet());
        tell(shipment, taken.intake());
        tellDisclosure(shipment.disclosure());
        tellDefaults(sender);
        console.say(
                dryRun.given()
                        ? "trial run: nothing was written"
                        : "written: " + folder.path().getFileName());
        return problems.status();
    }

    private Submission.SubmissionSettings settings(RegistryFormat format, Optional<KeyFile> keys, Catalogue catalogue) {
        Optional<Path> before = previous.value().map(Path::of);
        before.filter(b -> !Files.isRegularFile(b.resolve(Submission.MARK))).ifPresent(b -> {
            throw new UsageException(
                    "--previous " + previous.value().orElse("") + ": this is no folder that submit wrote.");
        });
        return new Submission.SubmissionSettings(
                Main.VERSION,
                format,
                accept.given(),
                output.guard(),
                lines.given(),
                gzip.given(),
                terminology
                        .value()
                        .map(f -> ExternalCodes.read(Input.parse(f, Optional.empty()), catalogue))
                        .orElse(ExternalCodes.NONE),
                before.map(b -> Submission.sent(b, format))
                        .orElse(SentRecords.NONE)
                        .over(keys.map(f -> f.sent(format.code())).orElse(SentRecords.NONE)));
    }

    /** What was read, and what the reconciliation needs of it. */
    private record Taken(ClinicReading.OnDemand read, Intake intake) {}

    private Taken read(Profile rules, ProblemList problems) {
        List<String> headings = EpisodeReader.headings(clinic.episodes(), reading.readOptions(List.of()));
        List<String> carried = rules.columns().stream()
                .map(Profile.AllowedColumn::name)
                .filter(name -> !EpisodeReader.isKnown(name))
                .filter(name -> headings.stream().anyMatch(name::equalsIgnoreCase))
                .toList();
        Progress progress = new Progress(console, reading.inputs(files.values()));
        ClinicReading.OnDemand read =
                clinic.onDemand(files.values(), reading, carried, problems, new Timings(progress));
        progress.end();
        ClinicResult result = read.read().result();
        return new Taken(
                read,
                Intake.of(
                        reading.inputs(files.values()).stream().map(Input::name).toList(),
                        result.counts().sittings(),
                        result.counts().read().rejected(),
                        result.responseProblems(),
                        result.unanswered().stream().map(SittingRow::sitting).toList(),
                        DeIdentifier.refusing(read.episodes()),
                        headings,
                        result.counts().read().unusedColumns()));
    }

    /** The options; a profile that the user names also names a study. */
    private Sender sender(Profile rules) {
        String of = site.value().orElse(Sender.DEFAULT_SITE);
        String to = study.value().orElse(rules.study());
        if (!Sender.isAllowed(of)) {
            throw new UsageException("--site " + of + ": write " + Sender.ALLOWED + ".");
        }
        if (!Sender.isAllowed(to)) {
            throw new UsageException("--study " + to + ": write " + Sender.ALLOWED + ".");
        }
        return new Sender(of, to);
    }

    private void tellDefaults(Sender sender) {
        if (!output.quiet()
                && (sender.site().equals(Sender.DEFAULT_SITE) || sender.study().equals(Sender.DEFAULT_STUDY))) {
            console.say("note: this is sent as site " + sender.site() + " of study " + sender.study()
                    + ". Two sites must not share these names: add --site and --study, as the receiver calls them.");
        }
    }

    private int smallestCell(Profile rules) {
        return k.value()
                .map(text -> {
                    if (!text.matches("[1-9][0-9]{0,5}")) {
                        throw new UsageException("--k " + text + ": write a whole number from 1, such as 5.");
                    }
                    return Integer.parseInt(text);
                })
                .orElse(rules.smallCell());
    }

    /** Nobody may be in too small a group of people alike in what is sent of them. */
    private void refuseDisclosure(Disclosure disclosure) {
        if (!disclosure.withinLimit()) {
            String advice = coarsen.given()
                    ? "Even with values left blank there are too few people. Wait for more, choose a smaller --k, or add"
                            + " --accept-disclosure"
                    : "Add --coarsen to leave values blank until nobody is, choose a profile that sends fewer columns, or add"
                            + " --accept-disclosure";
            throw new UsageException(disclosure.person().underK() + " of "
                    + people(disclosure.person().subjects())
                    + " are in groups of fewer than "
                    + disclosure.person().k()
                    + " that are alike in what would be sent of them. Somebody who knows one of them could tell which"
                    + " scores are theirs.\n"
                    + String.join("\n", table(disclosure)) + "\n"
                    + advice + " if the law and the agreement with the receiver allow it.");
        }
    }

    private static String people(int count) {
        return count == 1 ? "1 person" : count + " people";
    }

    /** Both counts, and what they are of. */
    private static List<String> table(Disclosure disclosure) {
        String line = "%-16s %8s %9s %8s  %s";
        return List.of(
                String.format(
                        Locale.ROOT,
                        line,
                        "alike in",
                        "people",
                        "under " + disclosure.person().k(),
                        "unique",
                        "columns"),
                row(
                        line,
                        "the person",
                        disclosure.person(),
                        String.join(", ", disclosure.person().fields())),
                row(
                        line,
                        "with visits",
                        disclosure.visits(),
                        "the same, and "
                                + String.join(
                                        ", ",
                                        disclosure
                                                .visits()
                                                .fields()
                                                .subList(
                                                        disclosure
                                                                .person()
                                                                .fields()
                                                                .size(),
                                                        disclosure
                                                                .visits()
                                                                .fields()
                                                                .size()))
                                + " of the forms"),
                row(line, "with forms", disclosure.forms(), "those of the person, and the set of instruments sent"));
    }

    private static String row(String line, String what, Disclosure.Cells cells, String columns) {
        return String.format(Locale.ROOT, line, what, cells.subjects(), cells.underK(), cells.unique(), columns);
    }

    private void tellDisclosure(Disclosure disclosure) {
        table(disclosure).forEach(console::say);
        if (!disclosure.coarsened().isEmpty()) {
            console.say("left blank so that nobody is in a smaller group: "
                    + disclosure.coarsened().entrySet().stream()
                            .map(e -> e.getKey() + " " + e.getValue())
                            .collect(Collectors.joining(", ")));
        }
        if (disclosure.episodesLeftOut() > 0) {
            console.say("episodes left out, since too few people have so many: " + disclosure.episodesLeftOut());
        }
        if (!disclosure.withinLimit()) {
            console.say(
                    dryRun.given()
                            ? "note: this would be refused without --coarsen or --accept-disclosure."
                            : "note: sent all the same, as --accept-disclosure says; it stands in the manifest.");
        }
    }

    private static void noteSmallCells(DeidentifiedDataset shipment, ProblemList problems) {
        Disclosure.Cells person = shipment.disclosure().person();
        if (person.underK() > 0) {
            problems.accept(new Problem(
                    Place.of("episodes"),
                    "",
                    ProblemCode.NOTE_SMALL_CELL,
                    person.underK() + " of " + people(person.subjects()) + " are in groups of fewer than " + person.k()
                            + " that are alike in what is sent of them. Somebody who knows one of them may tell which"
                            + " scores are theirs: send fewer columns, or agree on it with the receiver."));
        }
    }

    private void tell(DeidentifiedDataset shipment, Intake intake) {
        console.say(Submission.reconcile(shipment, intake).inOneLine());
        if (shipment.counts().episodesNotShared() > 0) {
            console.say("episodes that stay at home (share = no): "
                    + shipment.counts().episodesNotShared());
        }
        if (output.quiet()) {
            return;
        }
        shipment.counts()
                .blanked()
                .forEach((column, count) -> console.say("column " + column + ": " + count
                        + " values are not on the profile's list and are left blank"));
        console.say(shipment.statement());
    }

    private void tellCorrections(Submission.Corrections corrections) {
        tellCounts("amended since they were sent: ", corrections.amended());
        tellCounts("withdrawn since they were sent: ", corrections.withdrawn());
    }

    private void tellCounts(String what, Map<String, Integer> byTable) {
        if (!byTable.isEmpty()) {
            console.say(what
                    + new TreeMap<>(byTable)
                            .entrySet().stream()
                                    .map(e -> e.getKey() + " " + e.getValue())
                                    .collect(Collectors.joining(", ")));
        }
    }

    private int verify(Path folder) {
        ManifestCheck.Result result = ManifestCheck.check(folder);
        result.faults().forEach(console::say);
        console.say(
                result.faults().isEmpty()
                        ? "all " + result.files() + " files are as the manifest says"
                        : result.faults().size()
                                + " differences from the manifest. Do not send this folder; write it again.");
        return result.faults().isEmpty() ? ExitStatus.DONE : ExitStatus.PROBLEMS;
    }
}
