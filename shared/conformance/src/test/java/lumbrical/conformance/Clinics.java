package lumbrical.conformance;

import java.io.ByteArrayOutputStream;
import java.io.IOException;
import java.io.UncheckedIOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Path;
import java.time.LocalDate;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import lumbrical.catalogue.Catalogue;
import lumbrical.clinic.ClinicAnalysis;
import lumbrical.clinic.ClinicFiles;
import lumbrical.deidentify.DeIdentifier;
import lumbrical.deidentify.DeidentifiedDataset;
import lumbrical.deidentify.Profile;
import lumbrical.deidentify.Pseudonyms;
import lumbrical.deidentify.Sender;
import lumbrical.deidentify.ThrowawayPseudonyms;
import lumbrical.deidentify.UploadTerms;
import lumbrical.followup.FollowUpResult;
import lumbrical.output.DataFiles;
import lumbrical.tabular.Input;

/** Clinics to send: the invented demo clinic, or files that a test wrote. */
final class Clinics {
    static final String BASE = "https://lumbrical.example/fhir";
    static final LocalDate AS_OF = LocalDate.parse("2026-11-25");
    private static final Path DEMO = Path.of("..", "demo");

    /** The same for every shipment of a test run, as those of a key file are. */
    private static final Pseudonyms PSEUDONYMS = new ThrowawayPseudonyms();

    private Clinics() {}

    static DeidentifiedDataset demo(Profile profile) {
        return shipment(DEMO.resolve("responses.csv"), DEMO.resolve("episodes.csv"), profile);
    }

    static DeidentifiedDataset shipment(Path responses, Path episodes, Profile profile) {
        return DeIdentifier.prepare(
                look(responses, episodes), UploadTerms.of(profile, new Sender("CLINIC", profile.study()), PSEUDONYMS));
    }

    private static FollowUpResult look(Path responses, Path episodes) {
        return ClinicAnalysis.analyse(
                        ClinicFiles.builder(List.of(new Input(responses, Optional.empty())), AS_OF)
                                .episodes(new Input(episodes, Optional.empty()))
                                .build(),
                        Catalogue.builtIn())
                .followUp();
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
