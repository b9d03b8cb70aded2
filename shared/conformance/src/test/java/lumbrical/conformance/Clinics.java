package lumbrical.conformance;

import java.io.ByteArrayOutputStream;
import java.io.IOException;
import java.io.UncheckedIOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Path;
import java.time.LocalDate;
import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import lumbrical.batch.BatchScorer;
import lumbrical.catalogue.Catalogue;
import lumbrical.deidentify.DeIdentifier;
import lumbrical.deidentify.KeyedPseudonyms;
import lumbrical.deidentify.Profile;
import lumbrical.deidentify.Secret;
import lumbrical.deidentify.DeidentifiedDataset;
import lumbrical.followup.FollowUpAnalysis;
import lumbrical.followup.FollowUpResult;
import lumbrical.followup.Schedule;
import lumbrical.output.DataFiles;
import lumbrical.scoring.ScoringOptions;
import lumbrical.sitting.ScoredForm;
import lumbrical.intake.EpisodeReader;
import lumbrical.tabular.Input;
import lumbrical.intake.ReadOptions;
import lumbrical.threshold.ThresholdChoice;

/** Clinics to send: the invented demo clinic, or files that a test wrote. */
final class Clinics {
    static final String BASE = "https://lumbrical.example/fhir";
    static final LocalDate AS_OF = LocalDate.parse("2026-11-25");
    private static final Path DEMO = Path.of("..", "demo");

    private Clinics() {}

    static DeidentifiedDataset demo(Profile profile) {
        return shipment(DEMO.resolve("responses.csv"), DEMO.resolve("episodes.csv"), profile);
    }

    static DeidentifiedDataset shipment(Path responses, Path episodes, Profile profile) {
        return DeIdentifier.prepare(
                look(responses, episodes),
                profile,
                new KeyedPseudonyms(
                        Secret.of("a secret of the tests, invented".getBytes(StandardCharsets.UTF_8)), "invented"));
    }

    private static FollowUpResult look(Path responses, Path episodes) {
        Catalogue catalogue = Catalogue.builtIn();
        ReadOptions options = ReadOptions.asOf(AS_OF);
        EpisodeReader.Episodes read = EpisodeReader.read(new Input(episodes, Optional.empty()), catalogue, options);
        List<ScoredForm> forms = new ArrayList<>();
        new BatchScorer(catalogue, options, new ScoringOptions(false, false), BatchScorer.expectedOf(read.episodes()))
                .score(
                        List.of(new Input(responses, Optional.empty())),
                        (row, scored) -> scored.stream()
                                .filter(f ->
                                        !f.responses().blank() || !f.results().isEmpty())
                                .forEach(forms::add),
                        problem -> {});
        return FollowUpAnalysis.look(forms, read.episodes(), Schedule.DEFAULT, AS_OF, ThresholdChoice.DEFAULTS);
    }

    /** Files in memory, by name, in the order written. */
    static final class Files implements DataFiles {
        private final Map<String, byte[]> content = new LinkedHashMap<>();

        Map<String, byte[]> content() {
            return content;
        }

        String text(String name) {
            return new String(content.get(name), StandardCharsets.UTF_8);
        }

        @Override
        public void file(String name, Counted counted) {
            ByteArrayOutputStream out = new ByteArrayOutputStream();
            try {
                counted.writeTo(out);
            } catch (IOException e) {
                throw new UncheckedIOException(e);
            }
            content.put(name, out.toByteArray());
        }
    }
}
