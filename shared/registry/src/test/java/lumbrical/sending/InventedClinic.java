package lumbrical.sending;

import java.io.IOException;
import java.io.UncheckedIOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.LocalDate;
import java.util.List;
import java.util.Optional;
import java.util.stream.Collectors;
import lumbrical.catalogue.Catalogue;
import lumbrical.clinic.ClinicAnalysis;
import lumbrical.clinic.ClinicFiles;
import lumbrical.clinic.ClinicResult;
import lumbrical.deidentify.DeIdentifier;
import lumbrical.deidentify.DeidentifiedDataset;
import lumbrical.deidentify.KeyFile;
import lumbrical.deidentify.Profile;
import lumbrical.deidentify.Sender;
import lumbrical.deidentify.UploadTerms;
import lumbrical.followup.FollowUpResult;
import lumbrical.followup.FollowUpSource;
import lumbrical.intake.EpisodeReader;
import lumbrical.intake.ReadOptions;
import lumbrical.intake.SittingRow;
import lumbrical.registry.Intake;
import lumbrical.tabular.Input;

/** A clinic that a test writes as two tables. Nobody in it is real. */
public final class InventedClinic {
    /** The day on which every invented clinic is looked at. */
    public static final LocalDate AS_OF = LocalDate.parse("2026-11-25");

    private static final String RESPONSES = "responses.csv";

    private static final String KEYS = "ABCDEF"
            .chars()
            .mapToObj(
                    c -> "{\"patient\":\"%1$c\",\"pseudonym\":\"S%1$c\",\"episodes\":[\"1\",\"2\",\"3\"]}".formatted(c))
            .collect(Collectors.joining(
                    ",",
                    "{\"format\":\"lumbrical key file\",\"version\":1,\"secret\":\"MDEyMzQ1Njc4OWFiY2RlZg==\",\"patients\":[",
                    "]}"));

    private final Path folder;
    private final ClinicResult result;
    private final List<String> episodeHeadings;

    private InventedClinic(Path folder, ClinicResult result, List<String> episodeHeadings) {
        this.folder = folder;
        this.result = result;
        this.episodeHeadings = episodeHeadings;
    }

    /**
     * The clinic of two tables, on the default schedule.
     *
     * @param folder where they are written
     * @param carried columns of the episodes that are kept beside those known
     */
    public static InventedClinic of(Path folder, String episodes, String responses, String... carried) {
        Input episodeFile = write(folder.resolve("episodes.csv"), episodes);
        ReadOptions reading = reading(List.of(carried));
        return new InventedClinic(
                folder,
                ClinicAnalysis.analyse(
                        ClinicFiles.builder(List.of(write(folder.resolve(RESPONSES), responses)), AS_OF)
                                .episodes(episodeFile)
                                .reading(reading)
                                .build(),
                        Catalogue.builtIn()),
                EpisodeReader.headings(episodeFile, reading));
    }

    private static ReadOptions reading(List<String> carried) {
        ReadOptions usual = ReadOptions.asOf(AS_OF);
        return new ReadOptions(
                usual.asOf(),
                usual.notAnswered(),
                usual.badAsNotAnswered(),
                usual.columns(),
                usual.codes(),
                usual.encoding(),
                usual.dateFormat(),
                usual.decimalComma(),
                carried);
    }

    /** Rows of the long layout: the same answer to items {@code from} to {@code to}. */
    public static String answers(String sitting, String instrument, int from, int to, int answer) {
        StringBuilder rows = new StringBuilder();
        for (int item = from; item <= to; item++) {
            rows.append(sitting)
                    .append(',')
                    .append(instrument)
                    .append(',')
                    .append(item)
                    .append(',')
                    .append(answer);
            rows.append('\n');
        }
        return rows.toString();
    }

    private static Input write(Path file, String text) {
        try {
            return new Input(Files.writeString(file, text), Optional.empty());
        } catch (IOException e) {
            throw new UncheckedIOException(e);
        }
    }

    /** A profile without a smallest group. */
    public static Profile profile(Profile.Dates dates, Profile.AllowedColumn... columns) {
        return new Profile("by-hand", "1", "HAND", dates, 0, List.of(columns));
    }

    /** A column that may leave; without values one of few values by nature. */
    public static Profile.AllowedColumn column(String name, String... values) {
        return new Profile.AllowedColumn(name, List.of(values));
    }

    /** Sent as site CLINIC, with the names of {@link #keys}. */
    public UploadTerms terms(Profile profile) {
        return UploadTerms.of(profile, new Sender("CLINIC", profile.study()), keys());
    }

    /** Patients A to F as SA to SF, their episodes 1 to 3 as SA-1 to SA-3: names that a test can read, from a key file of its own. */
    public KeyFile keys() {
        Path file = folder.resolve("keys.json");
        if (!Files.exists(file)) {
            write(file, KEYS);
            file.toFile().setReadable(false, false);
            file.toFile().setReadable(true, true);
            file.toFile().setWritable(false, false);
            file.toFile().setWritable(true, true);
        }
        return KeyFile.open(file.toString(), folder.resolve("upload"));
    }

    /** The clinic's episodes with their forms. */
    public FollowUpResult followUp() {
        return result.followUp();
    }

    /** What would be sent. */
    public DeidentifiedDataset sent(UploadTerms terms) {
        return DeIdentifier.prepare(result.followUp(), terms);
    }

    /** What would be sent with {@link #terms}. */
    public DeidentifiedDataset sent(Profile profile) {
        return sent(terms(profile));
    }

    /** What was read, for the reconciliation. */
    public Intake intake() {
        return Intake.of(
                List.of(RESPONSES),
                result.counts().sittings(),
                result.counts().read().rejected(),
                result.responseProblems(),
                result.unanswered().stream().map(SittingRow::sitting).toList(),
                DeIdentifier.refusing(FollowUpSource.of(result.followUp())),
                episodeHeadings,
                result.counts().read().unusedColumns());
    }
}
