package lumbrical.server;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.ByteArrayOutputStream;
import java.io.IOException;
import java.io.UncheckedIOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.LocalDate;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.TreeMap;
import java.util.TreeSet;
import java.util.stream.Collectors;
import lumbrical.catalogue.Catalogue;
import lumbrical.clinic.ClinicAnalysis;
import lumbrical.clinic.ClinicFiles;
import lumbrical.deidentify.DeIdentifier;
import lumbrical.deidentify.DeidentifiedDataset;
import lumbrical.deidentify.KeyFile;
import lumbrical.deidentify.Profile;
import lumbrical.deidentify.Sender;
import lumbrical.deidentify.SendingLog;
import lumbrical.deidentify.UploadTerms;
import lumbrical.fhir.ExternalCodes;
import lumbrical.fhir.FhirFiles;
import lumbrical.output.DataFiles;
import lumbrical.tabular.Input;
import org.hl7.fhir.r4.model.CodeSystem;
import org.hl7.fhir.r4.model.Observation;
import org.hl7.fhir.r4.model.Patient;
import org.hl7.fhir.r4.model.Resource;
import org.junit.jupiter.api.AfterAll;
import org.junit.jupiter.api.BeforeAll;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/**
 * Uploads loaded into a FHIR R4 server with its defaults. Each test sends from a clinic of its own, with pseudonyms of its own; all are
 * invented.
 */
class UploadTrialTest {
    private static final String BASE = "https://lumbrical.example/fhir";
    private static final Path DEMO = Path.of("..", "demo");

    private static FhirServer server;

    @TempDir
    private Path folder;

    @BeforeAll
    static void start() {
        server = new FhirServer();
    }

    @AfterAll
    static void stop() {
        server.close();
    }

    /** A clinic that sends again and again, with one key file. */
    private final class Clinic {
        private final String site;
        private final Path responses;
        private final Path episodes;
        private Map<String, String> files = Map.of();

        Clinic(String site, Path responses, Path episodes) {
            this.site = site;
            this.responses = responses;
            this.episodes = episodes;
        }

        void change(Path file, String from, String to) throws IOException {
            String text = Files.readString(file);
            assertTrue(text.contains(from), from);
            Files.writeString(file, text.replace(from, to));
        }

        /** Writes an upload, and keeps in the key file that it was sent. */
        DeidentifiedDataset write(boolean lines) {
            KeyFile keys = KeyFile.open(folder.resolve(site + ".json").toString(), folder.resolve("upload"));
            DeidentifiedDataset shipment = DeIdentifier.prepare(
                    ClinicAnalysis.analyse(
                                    ClinicFiles.builder(
                                                    List.of(new Input(responses, Optional.empty())),
                                                    LocalDate.parse("2026-11-25"))
                                            .episodes(new Input(episodes, Optional.empty()))
                                            .build(),
                                    Catalogue.builtIn())
                            .followUp(),
                    UploadTerms.of(Profile.DEFAULT, new Sender(site, "TRIAL"), keys));
            SendingLog log = new SendingLog(keys.sent("fhir"));
            Memory memory = new Memory();
            FhirFiles.write(shipment, new FhirFiles.FhirSettings(lines, ExternalCodes.NONE), log, memory);
            files = memory.files;
            keys.keepSent("fhir", log.after());
            keys.save();
            return shipment;
        }

        /** Sends an upload and counts the server's answers. */
        Map<String, Integer> send() {
            write(false);
            Map<String, Integer> answers = new TreeMap<>();
            files.values().forEach(bundle -> server.load(bundle).forEach(a -> answers.merge(a, 1, Integer::sum)));
            return answers;
        }

        /** Its resources that the server has, of a type. */
        List<Resource> there(String type) {
            return server.search(type + "?_tag=" + BASE + "/id/site|" + site);
        }

        Set<String> pseudonyms() {
            return there("Patient").stream()
                    .map(r -> r.getIdElement().getIdPart())
                    .collect(Collectors.toCollection(TreeSet::new));
        }
    }

    private Clinic small(String site) throws IOException {
        StringBuilder responses = new StringBuilder("patient,completed_on,side");
        for (int i = 1; i <= 15; i++) {
            responses.append(",prwe_").append(i);
        }
        for (String patient : List.of("A", "B")) {
            responses.append('\n').append(patient).append(",2024-01-09,right").append(",6".repeat(15));
            responses.append('\n').append(patient).append(",2024-04-10,right").append(",2".repeat(15));
        }
        return new Clinic(
                site,
                Files.writeString(folder.resolve("r.csv"), responses.append('\n')),
                Files.writeString(
                        folder.resolve("e.csv"),
                        "patient,episode,treated_side,index_date,sex,share\nA,1,right,2024-01-10,female,yes\n"
                                + "B,1,right,2024-01-10,male,yes\n"));
    }

    private static final class Memory implements DataFiles {
        private final Map<String, String> files = new LinkedHashMap<>();

        @Override
        public void file(String name, Counted content) {
            ByteArrayOutputStream out = new ByteArrayOutputStream();
            try {
                content.writeTo(out);
            } catch (IOException e) {
                throw new UncheckedIOException(e);
            }
            files.put(name, out.toString(StandardCharsets.UTF_8));
        }
    }

    @Test
    void theDemoClinicLoadsAndLoadsAgainWithoutDoubling() {
        Clinic demo = new Clinic("DEMO", DEMO.resolve("responses.csv"), DEMO.resolve("episodes.csv"));
        Map<String, Integer> first = demo.send();
        assertTrue(Set.of("200 OK", "201 Created").containsAll(first.keySet()), first::toString);
        int observations = demo.there("Observation").size();
        assertTrue(observations > 1000, "only " + observations);
        assertEquals(711, demo.there("QuestionnaireResponse").size());
        assertEquals(59, demo.there("EpisodeOfCare").size());
        Map<String, Integer> second = demo.send();
        assertEquals(
                Map.of(
                        "200 OK",
                        first.values().stream().mapToInt(Integer::intValue).sum()),
                second);
        assertEquals(observations, demo.there("Observation").size());
        assertEquals(47, demo.pseudonyms().size());
        demo.there("Observation")
                .forEach(o -> assertEquals("1", o.getIdElement().getVersionIdPart(), "nothing changed"));
    }

    /** PRWE 6 throughout: pain 30, function 60 / 2 = 30, total 60; 2 throughout: 10, 10 and 20. */
    @Test
    void aPatientIsFoundWithAllScoresAndEverything() throws IOException {
        Clinic clinic = small("FIND");
        clinic.send();
        assertEquals(2, clinic.pseudonyms().size());
        for (String pseudonym : clinic.pseudonyms()) {
            String identifier = BASE + "/id/subject|" + pseudonym;
            assertEquals(1, server.search("Patient?identifier=" + identifier).size());
            for (String scale : List.of("total", "pain", "function")) {
                List<Double> values = server
                        .search("Observation?patient.identifier=" + identifier + "&code=" + BASE
                                + "/CodeSystem/prwe|prwe-" + scale)
                        .stream()
                        .map(o -> ((Observation) o).getValueQuantity().getValue().doubleValue())
                        .sorted()
                        .toList();
                assertEquals(scale.equals("total") ? List.of(20.0, 60.0) : List.of(10.0, 30.0), values, scale);
            }
            Map<String, Long> everything = server.everything(pseudonym).stream()
                    .collect(Collectors.groupingBy(Resource::fhirType, TreeMap::new, Collectors.counting()));
            assertEquals(
                    Map.of("Patient", 1L, "EpisodeOfCare", 1L, "QuestionnaireResponse", 2L, "Observation", 9L),
                    everything);
        }
    }

    @Test
    void aSecondClinicTakesNothingAwayFromTheFirst() throws IOException {
        Clinic first = new Clinic("FIRST", DEMO.resolve("responses.csv"), DEMO.resolve("episodes.csv"));
        first.send();
        List<Resource> before = server.search("CodeSystem?_count=1000");
        int observations = first.there("Observation").size();
        Clinic second = small("SECOND");
        second.send();
        assertEquals(observations, first.there("Observation").size());
        assertEquals(47, first.pseudonyms().size());
        assertEquals(2, second.pseudonyms().size());
        Map<String, Integer> after = server.search("CodeSystem?_count=1000").stream()
                .collect(Collectors.toMap(
                        r -> r.getIdElement().getIdPart(), r -> ((CodeSystem) r).getConcept().size()));
        assertTrue(before.size() > 20, "only " + before.size());
        before.forEach(r -> assertEquals(
                ((CodeSystem) r).getConcept().size(), after.get(r.getIdElement().getIdPart()), r.getId()));
    }

    @Test
    void aCorrectionReplacesWhatIsThere() throws IOException {
        Clinic clinic = small("CORRECT");
        clinic.send();
        int before = clinic.there("Observation").size();
        clinic.change(
                clinic.responses, "A,2024-04-10,right" + ",2".repeat(15), "A,2024-04-10,right" + ",3".repeat(15));
        assertEquals(Set.of("200 OK"), clinic.send().keySet());
        List<Resource> after = clinic.there("Observation");
        assertEquals(before, after.size());
        assertEquals(
                6,
                after.stream()
                        .filter(o -> ((Observation) o).getStatus() == Observation.ObservationStatus.AMENDED)
                        .count(),
                "three scores and three changes");
        clinic.change(clinic.responses, "A,2024-04-10", "A,2024-04-11");
        clinic.send();
        assertEquals(before, clinic.there("Observation").size(), "the form with the right date instead of the other");
        assertEquals(4, clinic.there("QuestionnaireResponse").size());
    }

    @Test
    void whoRefusesIsGoneAndNobodyElse() throws IOException {
        Clinic clinic = small("REFUSE");
        clinic.send();
        clinic.change(clinic.episodes, "female,yes", "female,no");
        Map<String, Integer> answers = clinic.send();
        assertTrue(answers.keySet().stream().allMatch(a -> a.startsWith("20")), answers::toString);
        assertEquals(1, clinic.pseudonyms().size());
        assertEquals(1, clinic.there("EpisodeOfCare").size());
        assertEquals(2, clinic.there("QuestionnaireResponse").size());
        assertEquals(9, clinic.there("Observation").size());
        assertEquals(
                List.of("male"),
                clinic.there("Patient").stream()
                        .map(p -> ((Patient) p).getGender().toCode())
                        .toList());
        Map<String, Integer> again = clinic.send();
        assertTrue(again.keySet().stream().allMatch(a -> a.startsWith("20")), again::toString);
        clinic.change(clinic.episodes, "female,no", "female,yes");
        clinic.send();
        assertEquals(2, clinic.pseudonyms().size(), "sent again after all");
        assertEquals(18, clinic.there("Observation").size());
    }

    @Test
    void linesTakenTwiceDoNotDouble() throws IOException {
        Clinic clinic = small("LINES");
        clinic.write(true);
        for (int i = 0; i < 2; i++) {
            clinic.files.values().forEach(file -> file.lines().forEach(server::put));
            assertEquals(2, clinic.pseudonyms().size());
            assertEquals(18, clinic.there("Observation").size());
        }
        String patient = clinic.pseudonyms().iterator().next();
        assertEquals(13, server.everything(patient).size());
    }
}
