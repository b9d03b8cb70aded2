package lumbrical.deidentify;

import com.fasterxml.jackson.core.JsonFactory;
import com.fasterxml.jackson.core.JsonGenerator;
import java.io.IOException;
import java.io.OutputStream;
import java.nio.file.Files;
import java.nio.file.Path;
import java.security.SecureRandom;
import java.util.ArrayList;
import java.util.Base64;
import java.util.HashSet;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import lumbrical.document.Faults;
import lumbrical.document.Json;
import lumbrical.document.Node;
import lumbrical.output.OutputFile;
import lumbrical.problem.Place;
import lumbrical.tabular.UnreadableInputException;

/**
 * Random pseudonyms, kept in a file beside which no registry file may lie. Whoever has it can tell who is who: it stays in the
 * house, readable by its owner alone. The same key file gives the same pseudonyms; new patients are added to it.
 */
public final class KeyFile implements Pseudonyms {
    private static final String FORMAT = "lumbrical key file";
    private static final int LETTERS = 16;
    private static final int SECRET_BYTES = 32;
    private static final long LARGEST = 256L << 20;

    private final Path path;
    private final Secret secret;
    private final Map<String, Known> patients = new LinkedHashMap<>();
    private final Set<String> taken = new HashSet<>();
    private final SecureRandom random = new SecureRandom();
    private boolean changed;

    private record Known(String pseudonym, List<String> episodes) {}

    private KeyFile(Path path, Optional<Secret> secret) {
        this.path = path;
        this.changed = secret.isEmpty();
        this.secret = secret.orElseGet(() -> {
            byte[] bytes = new byte[SECRET_BYTES];
            random.nextBytes(bytes);
            return Secret.of(bytes);
        });
    }

    /**
     * The key file at {@code name}, read if it is there.
     *
     * @param submission the folder that leaves the house
     * @throws UnreadableInputException if it is no key file of ours, others may read it, or it lies in {@code submission}
     */
    public static KeyFile open(String name, Path submission) {
        Path path = Path.of(name).toAbsolutePath().normalize();
        Place place = Place.of(String.valueOf(path.getFileName()));
        if (path.startsWith(submission.toAbsolutePath().normalize())) {
            throw new UnreadableInputException(
                    place,
                    "the key file lies in the folder that is sent. Whoever has it can tell who is who: keep it elsewhere.");
        }
        if (!Files.exists(path)) {
            if (path.getParent() == null || !Files.isDirectory(path.getParent())) {
                throw new UnreadableInputException(
                        place, "its folder does not exist. Create the folder, or choose another.");
            }
            return new KeyFile(path, Optional.empty());
        }
        OwnerOnly.require(path, place);
        return read(path, place);
    }

    private static KeyFile read(Path path, Place place) {
        Faults faults = new Faults();
        try {
            if (!Files.isRegularFile(path) || Files.size(path) > LARGEST) {
                throw new UnreadableInputException(
                        place, "this is no key file of ours. Name another file; this one is left alone.");
            }
            Node node = Node.of(Json.parse(Files.readAllBytes(path)), "$", faults);
            if (!node.optionalText("format").equals(Optional.of(FORMAT)) || node.whole("version", 0) != 1) {
                throw new UnreadableInputException(
                        place, "this is no key file of ours. Name another file; this one is left alone.");
            }
            byte[] bytes = Base64.getDecoder().decode(node.text("secret"));
            KeyFile file = new KeyFile(path, Optional.of(Secret.of(bytes)));
            for (Node.Element element : node.requiredElements("patients")) {
                Node patient = element.node();
                file.know(
                        patient.text("patient"),
                        new Known(patient.text("pseudonym"), new ArrayList<>(patient.texts("episodes"))));
            }
            node.refuseOtherKeys();
            if (!faults.none()) {
                throw new UnreadableInputException(
                        place, "the key file is damaged (" + faults.lines().get(0) + "). Restore a copy.");
            }
            return file;
        } catch (IOException | IllegalArgumentException e) {
            throw new UnreadableInputException(
                    place,
                    "this is no key file of ours, or it is damaged. Name another file, or restore a copy; this one is left"
                            + " alone.");
        }
    }

    private void know(String patient, Known known) {
        if (patients.put(patient, known) != null || !taken.add(known.pseudonym())) {
            throw new IllegalArgumentException("a patient or a pseudonym stands twice");
        }
    }

    @Override
    public String subject(String patient) {
        return known(patient).pseudonym();
    }

    @Override
    public String episode(String patient, String episode) {
        Known known = known(patient);
        int at = known.episodes().indexOf(episode);
        if (at < 0) {
            at = known.episodes().size();
            known.episodes().add(episode);
            changed = true;
        }
        return known.pseudonym() + "-" + (at + 1);
    }

    private Known known(String patient) {
        return Optional.ofNullable(patients.get(patient)).orElseGet(() -> {
            Known made = new Known(fresh(), new ArrayList<>());
            know(patient, made);
            changed = true;
            return made;
        });
    }

    private String fresh() {
        byte[] bytes = new byte[SECRET_BYTES];
        String made;
        do {
            random.nextBytes(bytes);
            made = PseudonymAlphabet.of(bytes, LETTERS);
        } while (taken.contains(made));
        return made;
    }

    @Override
    public int shiftDays(String patient) {
        return secret.shiftDays(patient);
    }

    @Override
    public String statement() {
        return "Pseudonyms are random and stand in a key file that is not part of this folder.";
    }

    /** Writes what is new, readable by the owner alone; to be done before anything is sent. */
    public void save() {
        if (changed) {
            OutputFile.at(path.toString(), true).ownerOnly().write(this::write);
            changed = false;
        }
    }

    private void write(OutputStream out) throws IOException {
        try (JsonGenerator json = new JsonFactory().createGenerator(out)) {
            json.useDefaultPrettyPrinter();
            json.writeStartObject();
            json.writeStringField("format", FORMAT);
            json.writeNumberField("version", 1);
            json.writeStringField("secret", Base64.getEncoder().encodeToString(secret.bytes()));
            json.writeArrayFieldStart("patients");
            for (Map.Entry<String, Known> patient : patients.entrySet()) {
                json.writeStartObject();
                json.writeStringField("patient", patient.getKey());
                json.writeStringField("pseudonym", patient.getValue().pseudonym());
                json.writeArrayFieldStart("episodes");
                for (String episode : patient.getValue().episodes()) {
                    json.writeString(episode);
                }
                json.writeEndArray();
                json.writeEndObject();
            }
            json.writeEndArray();
            json.writeEndObject();
        }
    }
}
