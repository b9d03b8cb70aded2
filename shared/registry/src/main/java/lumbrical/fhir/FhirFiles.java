package lumbrical.fhir;

import com.fasterxml.jackson.core.JsonFactory;
import com.fasterxml.jackson.core.JsonGenerator;
import com.fasterxml.jackson.core.util.MinimalPrettyPrinter;
import java.io.IOException;
import java.io.OutputStream;
import java.io.UncheckedIOException;
import java.util.ArrayList;
import java.util.HashSet;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Set;
import java.util.TreeMap;
import java.util.TreeSet;
import java.util.function.Consumer;
import java.util.function.Function;
import lumbrical.deidentify.DeidentifiedDataset;
import lumbrical.deidentify.DeidentifiedEpisode;
import lumbrical.deidentify.DeidentifiedForm;
import lumbrical.deidentify.SendingLog;
import lumbrical.deidentify.SentRecords;
import lumbrical.output.DataFiles;
import lumbrical.output.DictionaryEntry;

/** Writes a shipment as FHIR R4. */
public final class FhirFiles {
    /** Most entries of a Bundle; a large service takes 500. */
    static final int MOST_ENTRIES = 400;

    private static final JsonFactory FACTORY = new JsonFactory();

    private final DeidentifiedDataset shipment;
    private final FhirSettings settings;
    private final DataFiles files;
    private final SendingLog log;
    private final CodeSystems systems;
    private final Map<String, Set<String>> elements = new TreeMap<>();

    private FhirFiles(DeidentifiedDataset shipment, FhirSettings settings, SendingLog log, DataFiles files) {
        this.shipment = shipment;
        this.settings = settings;
        this.files = files;
        this.log = log;
        this.systems = new CodeSystems(shipment.instruments());
    }

    /**
     * How to write.
     *
     * @param lines one resource a line in a file per type (NDJSON), instead of transaction Bundles
     * @param codes codes of LOINC or SNOMED CT that the user adds
     */
    public record FhirSettings(boolean lines, ExternalCodes codes) {}

    /**
     * What was written.
     *
     * @param dictionary what the elements hold
     * @param left the elements that the resources hold
     */
    public record Written(List<DictionaryEntry> dictionary, List<DictionaryEntry> left) {
        /** Copies the lists. */
        public Written {
            dictionary = List.copyOf(dictionary);
            left = List.copyOf(left);
        }
    }

    /**
     * Writes definitions and data into {@code data/}, in the order in which a receiver loads them.
     *
     * @param log what was sent before; takes what is sent now
     */
    public static Written write(DeidentifiedDataset shipment, FhirSettings settings, SendingLog log, DataFiles files) {
        FhirFiles fhir = new FhirFiles(shipment, settings, log, files);
        List<Definitions.Named> definitions = Definitions.of(shipment.instruments(), fhir.systems, settings.codes());
        definitions.forEach(d -> fhir.look(d.resource()));
        if (settings.lines()) {
            fhir.writeLines(definitions);
        } else {
            fhir.writeBundles(definitions);
        }
        fhir.withdraw();
        return new Written(FhirDictionary.ENTRIES, FhirDictionary.left(fhir.elements));
    }

    private void look(JsonObject resource) {
        resource.elements(elements.computeIfAbsent(resource.type(), t -> new TreeSet<>())::add);
    }

    /** Takes resources about patients, as JSON with plain references. */
    private interface Taker {
        void take(String id, String resource, SentRecords.State state);
    }

    /** What is sent of one episode, by type of resource. */
    private final class Resources {
        private final DeidentifiedEpisode episode;

        Resources(DeidentifiedEpisode episode) {
            this.episode = episode;
        }

        void patient(Taker taker) {
            logged("Patient", episode.subject(), "", status -> FormResource.patient(episode), taker);
        }

        void episode(Taker taker) {
            logged("EpisodeOfCare", episode.id(), "", status -> FormResource.episode(episode), taker);
        }

        void form(DeidentifiedForm form, Taker taker) {
            logged(
                    "QuestionnaireResponse",
                    form.key(),
                    "completed",
                    status -> FormResource.form(systems, settings.codes(), episode, form, status),
                    taker);
        }

        void scores(DeidentifiedForm form, Taker taker) {
            new ScoreResource(episode, form, systems, settings.codes())
                    .scores()
                    .forEach(o -> logged("Observation", o.id(), "final", o.make(), taker));
        }

        void changes(DeidentifiedForm form, Taker taker) {
            new ScoreResource(episode, form, systems, settings.codes())
                    .changes()
                    .forEach(o -> logged("Observation", o.id(), "final", o.make(), taker));
        }

        /** @param first the status of what is sent for the first time; blank if there is none */
        private void logged(String type, String id, String first, Function<String, JsonObject> make, Taker taker) {
            JsonObject resource = make.apply(first);
            look(resource);
            String text = resource.text();
            SentRecords.State state = log.add(type, id, episode.subject(), text);
            boolean amended = state != SentRecords.State.FIRST && !first.isEmpty();
            taker.take(id, amended ? make.apply("amended").text() : text, state);
        }
    }

    /** Episodes of which a form is sent; of others nothing is. */
    private void episodes(Consumer<Resources> taker) {
        shipment.contents().forEach(episode -> {
            if (!episode.forms().isEmpty()) {
                taker.accept(new Resources(episode));
            }
        });
    }

    /** The first of each subject's episodes; they come together. */
    private void subjects(Consumer<Resources> taker) {
        Set<String> seen = new HashSet<>();
        episodes(resources -> {
            if (seen.add(resources.episode.subject())) {
                taker.accept(resources);
            }
        });
    }

    /** Bundles of at most so many entries; a group falls into one Bundle. */
    private final class Bundles {
        private final String name;
        private final List<BundleEntry> entries = new ArrayList<>();
        private int number;

        Bundles(String name) {
            this.name = name;
        }

        void add(List<BundleEntry> group) {
            if (entries.size() + group.size() > MOST_ENTRIES) {
                end();
            }
            entries.addAll(group);
        }

        void end() {
            if (!entries.isEmpty()) {
                files.file(
                        String.format(Locale.ROOT, "data/%s-%05d.json", name, ++number), out -> bundle(entries, out));
                entries.clear();
            }
        }
    }

    private static Taker into(String type, String subject, List<BundleEntry> group) {
        return (id, resource, state) ->
                group.add(BundleEntry.put(type, id, type + "/" + id, References.inTransaction(resource, subject)));
    }

    private void writeBundles(List<Definitions.Named> definitions) {
        Bundles bundles = new Bundles("bundle");
        definitions.forEach(d -> bundles.add(List.of(BundleEntry.put(
                d.type(),
                d.id(),
                d.type() + "?url=" + d.url() + "&version=" + d.version(),
                d.resource().text()))));
        boolean[] anyReturned = new boolean[1];
        subjects(resources -> resources.patient((id, patient, state) -> {
            boolean returned = state == SentRecords.State.RETURNED;
            anyReturned[0] |= returned;
            // a server keeps the id of a deleted patient: a condition finds nobody, and the id cannot be made again
            String url = returned ? "Patient/" + id : "Patient?identifier=" + FhirCodes.SUBJECT_ID + "|" + id;
            bundles.add(List.of(BundleEntry.put("Patient", id, url, patient)));
        }));
        if (anyReturned[0]) {
            bundles.end(); // who comes back must be there before a condition can find them
        }
        episodes(resources -> {
            String subject = resources.episode.subject();
            List<BundleEntry> episode = new ArrayList<>();
            resources.episode(into("EpisodeOfCare", subject, episode));
            bundles.add(episode);
            for (DeidentifiedForm form : resources.episode.forms()) {
                List<BundleEntry> group = new ArrayList<>();
                resources.form(form, into("QuestionnaireResponse", subject, group));
                resources.scores(form, into("Observation", subject, group));
                bundles.add(group);
            }
            for (DeidentifiedForm form : resources.episode.forms()) {
                List<BundleEntry> group = new ArrayList<>();
                resources.changes(form, into("Observation", subject, group));
                bundles.add(group);
            }
        });
        bundles.end();
    }

    /** Deletions come as transactions also beside files of lines, which have no word for them. */
    private void withdraw() {
        Bundles bundles = new Bundles("withdrawn");
        Withdrawal.entries(log.withdrawn()).forEach(bundles::add);
        bundles.end();
    }

    private static long bundle(List<BundleEntry> entries, OutputStream out) throws IOException {
        try (JsonGenerator json = FACTORY.createGenerator(out)) {
            json.writeStartObject();
            json.writeStringField("resourceType", "Bundle");
            json.writeStringField("type", "transaction");
            json.writeArrayFieldStart("entry");
            for (BundleEntry entry : entries) {
                json.writeRaw('\n');
                entry.write(json);
            }
            json.writeEndArray();
            json.writeEndObject();
            json.writeRaw('\n');
        }
        return entries.size();
    }

    private void writeLines(List<Definitions.Named> definitions) {
        Map<String, List<JsonObject>> byType = new LinkedHashMap<>();
        definitions.forEach(
                d -> byType.computeIfAbsent(d.type(), t -> new ArrayList<>()).add(d.resource()));
        byType.forEach((type, resources) ->
                lines(type, taker -> resources.forEach(r -> taker.take("", r.text(), SentRecords.State.FIRST))));
        lines("Patient", taker -> subjects(r -> r.patient(taker)));
        lines("EpisodeOfCare", taker -> episodes(r -> r.episode(taker)));
        lines("QuestionnaireResponse", taker -> forms((r, form) -> r.form(form, taker)));
        lines("Observation", taker -> {
            forms((r, form) -> r.scores(form, taker));
            forms((r, form) -> r.changes(form, taker));
        });
    }

    private interface FormTaker {
        void take(Resources resources, DeidentifiedForm form);
    }

    private void forms(FormTaker taker) {
        episodes(resources -> resources.episode.forms().forEach(form -> taker.take(resources, form)));
    }

    /** One resource a line; nothing at all if there is none. */
    private void lines(String type, Consumer<Taker> resources) {
        files.file("data/" + type + ".ndjson", out -> {
            long[] count = new long[1];
            try (JsonGenerator json = FACTORY.createGenerator(out)) {
                json.setPrettyPrinter(new MinimalPrettyPrinter("\n"));
                resources.accept((id, resource, state) -> {
                    try {
                        json.writeRawValue(resource);
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
        });
    }
}
