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
import java.util.TreeMap;
import lumbrical.document.Faults;
import lumbrical.document.Json;
import lumbrical.document.Node;
import lumbrical.output.OutputFile;
import lumbrical.problem.Place;
import lumbrical.tabular.UnreadableInputException;

/**
 * Random pseudonyms, kept in a file beside which no registry file may lie. Whoever has it can tell who is who: it stays in the
 * house, readable by its owner alone. The same key file gives the same pseudonyms; new patients are added to it. It is also the list of
 * what the receiver was sent, by format.
 */
public final class KeyFile implements Pseudonyms {
    private static final String FORMAT = "lumbrical key file";
    private static final int LETTERS = 16;
    private static final int FORM_LETTERS = 20;
    private static final int SECRET_BYTES = 32;
    private static final long LARGEST = 256L << 20;
    private static final Map<String, SentRecords.State> STATES =
            Node.words(SentRecords.State.values(), SentRecords.State::code);

    private final Path path;
    private final Secret secret;
    private final Map<String, Known> patients = new LinkedHashMap<>();
    private final Set<String> taken = new HashSet<>();
    private final Map<String, SentRecords> sent = new TreeMap<>();
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
     * Keeps the key file at {@code name} for one run; to be asked for before {@link #open} and closed after {@link #save}.
     *
     * @param submission the folder that leaves the house
     * @throws UnreadableInputException if another run keeps it, nothing can be written beside it, or it lies in {@code submission}
     */
    public static KeyFileLock keep(String name, Path submission) {
        Place place = Place.of(String.valueOf(Path.of(name).getFileName()));
        Path path = outside(Path.of(name), submission, place);
        requireFolder(path, place);
        return KeyFileLock.beside(path, place);
    }

    private static void requireFolder(Path path, Place place) {
        if (path.getParent() == null || !Files.isDirectory(path.getParent())) {
            throw new UnreadableInputException(
                    place, "its folder does not exist. Create the folder, or choose another.");
        }
    }

    /**
     * The key file at {@code name}, read if it is there.
     *
     * @param submission the folder that leaves the house
     * @throws UnreadableInputException if it is no key file of ours, others may read it, or it lies in {@code submission}
     */
    public static KeyFile open(String name, Path submission) {
        Place place = Place.of(String.valueOf(Path.of(name).getFileName()));
        Path path = outside(Path.of(name), submission, place);
        if (!Files.exists(path)) {
            requireFolder(path, place);
            return new KeyFile(path, Optional.empty());
        }
        OwnerOnly.require(path, place);
        return read(path, place);
    }

    /** The file's real path, which does not lie in the folder, by whatever name. */
    private static Path outside(Path named, Path submission, Place place) {
        try {
            Path path = RealPlace.of(named);
            if (RealPlace.lies(path, RealPlace.of(submission))) {
                throw new UnreadableInputException(
                        place,
                        "the key file lies in the folder that is sent. Whoever has it can tell who is who: keep it"
                                + " elsewhere.");
            }
            return path;
        } catch (IOException e) {
            throw new UnreadableInputException(
                    place,
                    "it cannot be told where the key file lies. Name it without links, outside the folder that is sent.");
        }
    }

    /** Pseudonyms of one run; {@link #save} is not called. */
    static KeyFile unsaved() {
        return new KeyFile(Path.of(""), Optional.empty());
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
            for (Node.Element element : node.elements("sent")) {
                Node format = element.node();
                file.sent.put(format.text("as"), sent(format.texts("records")));
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

    private static SentRecords sent(List<String> lines) {
        PackedRecords.Builder records = new PackedRecords.Builder();
        for (String line : lines) {
            String[] parts = line.split(" ", -1);
            if (parts.length != 5 || !STATES.containsKey(parts[4])) {
                throw new IllegalArgumentException("a record of what was sent has not five parts");
            }
            records.add(
                    new SentRecords.Key(parts[0], parts[1]),
                    new SentRecords.Sent(parts[2], parts[3], STATES.get(parts[4])));
        }
        return new SentRecords(records.build());
    }

    /**
     * What the receiver was sent in a format.
     *
     * @param format code of the format
     */
    public SentRecords sent(String format) {
        return sent.getOrDefault(format, SentRecords.NONE);
    }

    /** Keeps what the receiver is sent in a format, for the next {@link #save}. */
    public void keepSent(String format, SentRecords records) {
        changed |= !records.equals(sent(format));
        sent.put(format, records);
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
    public String form(List<String> given) {
        return PseudonymAlphabet.of(secret.hash("form", given), FORM_LETTERS);
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
            if (!sent.isEmpty()) {
                writeSent(json);
            }
            json.writeEndObject();
        }
    }

    private void writeSent(JsonGenerator json) throws IOException {
        json.writeArrayFieldStart("sent");
        for (Map.Entry<String, SentRecords> format : sent.entrySet()) {
            json.writeStartObject();
            json.writeStringField("as", format.getKey());
            json.writeArrayFieldStart("records");
            for (Map.Entry<SentRecords.Key, SentRecords.Sent> record :
                    format.getValue().records().entrySet()) {
                SentRecords.Sent value = record.getValue();
                json.writeString(String.join(
                        " ",
                        record.getKey().table(),
                        record.getKey().key(),
                        value.subject(),
                        value.hash(),
                        value.state().code()));
            }
            json.writeEndArray();
            json.writeEndObject();
        }
        json.writeEndArray();
    }
}
