package lumbrical.fhir;

import com.fasterxml.jackson.core.JsonFactory;
import com.fasterxml.jackson.core.JsonGenerator;
import com.fasterxml.jackson.core.util.MinimalPrettyPrinter;
import java.io.IOException;
import java.io.OutputStream;
import java.io.UncheckedIOException;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Set;
import java.util.TreeMap;
import java.util.TreeSet;
import java.util.function.Consumer;
import lumbrical.deidentify.DeidentifiedDataset;
import lumbrical.deidentify.DeidentifiedEpisode;
import lumbrical.deidentify.DeidentifiedForm;
import lumbrical.output.DataFiles;
import lumbrical.output.DictionaryEntry;

/** Writes a shipment as FHIR R4. */
public final class FhirFiles {
    private static final JsonFactory FACTORY = new JsonFactory();

    private final DeidentifiedDataset shipment;
    private final FhirSettings settings;
    private final DataFiles files;
    private final Status status;
    private final Map<String, Set<String>> elements = new TreeMap<>();

    private FhirFiles(DeidentifiedDataset shipment, FhirSettings settings, DataFiles files) {
        this.shipment = shipment;
        this.settings = settings;
        this.files = files;
        this.status = new Status(settings.before());
    }

    /**
     * How to write.
     *
     * @param lines one resource a line in a file per type (NDJSON), instead of transaction Bundles
     * @param formsPerBundle a Bundle ends with the episode in which this many forms are reached, so that no episode is divided
     * @param codes codes of LOINC or SNOMED CT that the user adds
     * @param before what an earlier submission holds, by identifier
     * @param withdraw whether what it holds and this one does not is sent as entered in error
     */
    public record FhirSettings(
            boolean lines, int formsPerBundle, ExternalCodes codes, Map<String, SentRecord> before, boolean withdraw) {
        /** @throws IllegalArgumentException if a Bundle may hold no form */
        public FhirSettings {
            before = Map.copyOf(before);
            if (formsPerBundle < 1) {
                throw new IllegalArgumentException("A Bundle needs at least one form");
            }
        }
    }

    /**
     * What was sent under an identifier.
     *
     * @param identifier of a form or an Observation
     * @param sha256 hash of the resource as first sent, in hexadecimal
     * @param status its status
     */
    public record SentRecord(String identifier, String sha256, String status) {}

    /**
     * What was written.
     *
     * @param dictionary what the elements hold
     * @param sent every form and Observation, in the order written, then those of an earlier submission that are not sent now
     * @param notSentNow how many of an earlier submission are not sent now, those withdrawn before left out
     * @param left the elements that the resources about patients hold; definitions are not about anybody
     */
    public record Written(
            List<DictionaryEntry> dictionary, List<SentRecord> sent, int notSentNow, List<DictionaryEntry> left) {
        /** Copies the lists. */
        public Written {
            dictionary = List.copyOf(dictionary);
            sent = List.copyOf(sent);
            left = List.copyOf(left);
        }
    }

    /** Writes definitions and data into {@code data/}. */
    public static Written write(DeidentifiedDataset shipment, FhirSettings settings, DataFiles files) {
        FhirFiles fhir = new FhirFiles(shipment, settings, files);
        List<Definitions.Named> definitions = Definitions.of(shipment.instruments());
        files.file("data/definitions.json", out -> fhir.definitions(definitions, out));
        if (settings.lines()) {
            fhir.writeLines();
        } else {
            fhir.writeBundles();
        }
        return fhir.written();
    }

    private Written written() {
        List<SentRecord> gone = status.gone();
        List<SentRecord> sent = new ArrayList<>(status.sent());
        for (SentRecord record : gone) {
            sent.add(
                    settings.withdraw()
                            ? new SentRecord(record.identifier(), record.sha256(), Status.WITHDRAWN)
                            : record);
        }
        if (settings.withdraw() && !gone.isEmpty()) {
            withdraw(gone);
        }
        int notSentNow = (int)
                gone.stream().filter(r -> !r.status().equals(Status.WITHDRAWN)).count();
        return new Written(FhirDictionary.ENTRIES, sent, notSentNow, FhirDictionary.left(elements));
    }

    private void withdraw(List<SentRecord> gone) {
        if (settings.lines()) {
            files.file(
                    "data/withdrawn.ndjson",
                    out -> lines(out, taker -> gone.forEach(r -> taker.take(Withdrawal.of(r)))));
            return;
        }
        List<Entry> entries = new ArrayList<>();
        for (SentRecord record : gone) {
            boolean form = Withdrawal.isForm(record);
            entries.add(Entry.of(
                    form ? "QuestionnaireResponse" : "Observation",
                    form ? FhirCodes.FORM_ID : FhirCodes.SCORE_ID,
                    record.identifier(),
                    Withdrawal.of(record)));
        }
        entries.forEach(e -> look(e.resource()));
        files.file("data/withdrawn.json", out -> bundle(entries, out));
    }

    /** An entry of a Bundle. */
    private record Entry(String fullUrl, String condition, JsonObject resource) {
        static Entry of(String type, String system, String value, JsonObject resource) {
            return new Entry(FhirCodes.fullUrl(system, value), type + "?identifier=" + system + "|" + value, resource);
        }

        JsonObject element() {
            return new JsonObject()
                    .put("fullUrl", fullUrl)
                    .put("resource", resource)
                    .put("request", new JsonObject().put("method", "PUT").put("url", condition));
        }
    }

    private long definitions(List<Definitions.Named> definitions, OutputStream out) throws IOException {
        List<Entry> entries = definitions.stream()
                .map(d ->
                        new Entry(FhirCodes.fullUrl("canonical", d.url()), d.type() + "?url=" + d.url(), d.resource()))
                .toList();
        return bundle(entries, out);
    }

    private void look(JsonObject resource) {
        elements.computeIfAbsent(resource.type(), t -> new TreeSet<>()).addAll(resource.elements());
    }

    private static long bundle(List<Entry> entries, OutputStream out) throws IOException {
        try (JsonGenerator json = FACTORY.createGenerator(out)) {
            json.writeStartObject();
            json.writeStringField("resourceType", "Bundle");
            json.writeStringField("type", "transaction");
            json.writeArrayFieldStart("entry");
            for (Entry entry : entries) {
                json.writeRaw('\n');
                entry.element().write(json);
            }
            json.writeEndArray();
            json.writeEndObject();
            json.writeRaw('\n');
        }
        return entries.size();
    }

    private void writeBundles() {
        List<Entry> entries = new ArrayList<>();
        int[] forms = {0};
        int[] number = {0};
        shipment.contents().forEach(episode -> {
            if (!episode.forms().isEmpty()) {
                addEpisode(episode, entries);
                forms[0] += episode.forms().size();
            }
            if (forms[0] >= settings.formsPerBundle()) {
                writeBundle(++number[0], entries);
                forms[0] = 0;
            }
        });
        if (!entries.isEmpty()) {
            writeBundle(++number[0], entries);
        }
    }

    private void writeBundle(int number, List<Entry> entries) {
        entries.forEach(e -> look(e.resource()));
        files.file(String.format(Locale.ROOT, "data/bundle-%05d.json", number), out -> bundle(entries, out));
        entries.clear();
    }

    private void addEpisode(DeidentifiedEpisode episode, List<Entry> entries) {
        entries.add(Entry.of("EpisodeOfCare", FhirCodes.EPISODE_ID, episode.id(), FormResource.episode(episode)));
        for (DeidentifiedForm form : episode.forms()) {
            entries.add(Entry.of(
                    "QuestionnaireResponse",
                    FhirCodes.FORM_ID,
                    form.key(),
                    status.form(form.key(), s -> FormResource.form(episode, form, s))));
            new ScoreResource(episode, form, settings.codes(), References.ENTRY)
                    .scores(status)
                    .forEach(o ->
                            entries.add(Entry.of("Observation", FhirCodes.SCORE_ID, o.identifier(), o.resource())));
        }
    }

    private void writeLines() {
        lines("EpisodeOfCare", (episode, taker) -> taker.take(FormResource.episode(episode)));
        lines("QuestionnaireResponse", (episode, taker) -> {
            for (DeidentifiedForm form : episode.forms()) {
                taker.take(status.form(form.key(), s -> FormResource.form(episode, form, s)));
            }
        });
        lines("Observation", (episode, taker) -> {
            for (DeidentifiedForm form : episode.forms()) {
                new ScoreResource(episode, form, settings.codes(), References.LOGICAL)
                        .scores(status)
                        .forEach(o -> taker.take(o.resource()));
            }
        });
    }

    private interface Taker {
        void take(JsonObject resource);
    }

    private interface Lines {
        void of(DeidentifiedEpisode episode, Taker taker);
    }

    private void lines(String type, Lines lines) {
        files.file(
                "data/" + type + ".ndjson",
                out -> lines(out, taker -> shipment.contents().forEach(episode -> {
                    if (!episode.forms().isEmpty()) {
                        lines.of(episode, taker);
                    }
                })));
    }

    /** One resource a line; nothing at all if there is none. */
    private long lines(OutputStream out, Consumer<Taker> resources) throws IOException {
        long[] count = new long[1];
        try (JsonGenerator json = FACTORY.createGenerator(out)) {
            json.setPrettyPrinter(new MinimalPrettyPrinter("\n"));
            resources.accept(resource -> {
                look(resource);
                try {
                    resource.write(json);
                } catch (IOException e) {
                    throw new UncheckedIOException(e);
                }
                count[0]++;
            });
            if (count[0] > 0) {
                json.writeRaw('\n');
            }
        }
        return count[0];
    }
}
