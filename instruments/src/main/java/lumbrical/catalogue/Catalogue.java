package lumbrical.catalogue;

import java.io.IOException;
import java.io.UncheckedIOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.TreeMap;
import java.util.concurrent.ConcurrentHashMap;
import java.util.stream.Stream;
import lumbrical.condition.ConditionVocabulary;
import lumbrical.document.Faults;
import lumbrical.document.Json;
import lumbrical.document.Node;
import lumbrical.instrument.Instrument;
import lumbrical.instrument.InstrumentId;

/**
 * The instruments that can be scored, by id, each in its newest version; earlier ones are read on request. A definition is read when
 * it is first asked for. Safe to share between threads.
 */
public final class Catalogue {
    static final String EARLIER = "earlier";
    private static final String FOLDER = "definitions/";

    /** Versions are words, and numbers where they look like numbers. */
    private static final Comparator<String> BY_VERSION = Comparator.comparing(
                    (String version) -> version.matches("\\d{1,9}") ? Integer.parseInt(version) : 0)
            .thenComparing(Comparator.naturalOrder());

    /** By id, what is read when the id is asked for. */
    private final Map<String, Definition> definitions;
    /** By id and version, every definition, the newest included where its version is known without reading it. */
    private final Map<Key, Definition> versions;

    private final Map<Definition, Instrument> read = new ConcurrentHashMap<>();

    private record Key(String id, String version) {
        // Equality written out: the one a record is given is put together at run time, and every start would pay.

        @Override
        public boolean equals(Object other) {
            return other instanceof Key key && id.equals(key.id) && version.equals(key.version);
        }

        @Override
        public int hashCode() {
            return 31 * id.hashCode() + version.hashCode();
        }
    }

    /** Where a definition comes from. */
    private interface Definition {
        byte[] bytes() throws IOException;

        String name();
    }

    /** One of this library: its file and its line of the index. */
    private record BuiltIn(String file, String line) implements Definition {
        @Override
        public byte[] bytes() {
            return Resources.bytes(FOLDER + file);
        }

        @Override
        public String name() {
            return "instruments/definitions/" + file;
        }

        // Equality written out: the one a record is given is put together at run time, and every start would pay.

        @Override
        public boolean equals(Object other) {
            return other instanceof BuiltIn builtIn && file.equals(builtIn.file) && line.equals(builtIn.line);
        }

        @Override
        public int hashCode() {
            return file.hashCode();
        }
    }

    private record OwnFile(Path path) implements Definition {
        @Override
        public byte[] bytes() throws IOException {
            if (Files.size(path) > DefinitionReader.MAX_BYTES) {
                throw new DefinitionFaultsException(
                        name(),
                        List.of("$: " + Files.size(path) + " bytes, but at most " + DefinitionReader.MAX_BYTES + "."));
            }
            return Files.readAllBytes(path);
        }

        @Override
        public String name() {
            return String.valueOf(path.getFileName());
        }
    }

    private Catalogue(
            Map<String, Definition> definitions, Map<Key, Definition> versions, Map<Definition, Instrument> read) {
        this.definitions = definitions;
        this.versions = versions;
        this.read.putAll(read);
    }

    /** Made when first asked for, then shared: definitions are read once. */
    private static final class Shipped {
        private static final Catalogue CATALOGUE = shipped();
    }

    /** The instruments shipped with this library; the same every time. */
    public static Catalogue builtIn() {
        return Shipped.CATALOGUE;
    }

    /** The bytes of the definition files shipped with this library, newest versions, by file name. */
    public static Map<String, byte[]> builtInFiles() {
        Map<String, byte[]> files = new TreeMap<>();
        for (InstrumentId id : builtIn().ids()) {
            files.put(id + ".json", Resources.bytes("definitions/" + id + ".json"));
        }
        return files;
    }

    private static Catalogue shipped() {
        Map<String, Definition> definitions = new TreeMap<>();
        Map<Key, Definition> versions = new HashMap<>();
        for (String line : lines("definitions.tsv")) {
            Summary summary = Summary.parse(line);
            Definition definition = new BuiltIn(summary.id() + ".json", line);
            definitions.put(summary.id(), definition);
            versions.put(new Key(summary.id(), summary.version()), definition);
        }
        for (String line : lines("earlier.tsv")) {
            Summary summary = Summary.parse(line);
            versions.put(
                    new Key(summary.id(), summary.version()),
                    new BuiltIn(earlierFile(summary.id(), summary.version()), line));
        }
        return new Catalogue(definitions, versions, Map.of());
    }

    /** Where an earlier version lies, below the folder of the definitions. */
    static String earlierFile(String id, String version) {
        return EARLIER + "/" + id + "@" + version + ".json";
    }

    private static List<String> lines(String resource) {
        return new String(Resources.bytes(resource), StandardCharsets.UTF_8)
                .lines()
                .filter(line -> !line.isEmpty())
                .toList();
    }

    /**
     * This catalogue and the definitions of a folder: every {@code *.json} in it and in its folder {@code earlier}. All are read and
     * checked at once. Of several versions of one id the newest is the one that {@link #find(String)} gives.
     *
     * @throws DefinitionFaultsException if one has a fault, an id of this catalogue, or the id and version of another and other content
     * @throws IOException if the folder or a file in it cannot be read
     */
    public Catalogue with(Path folder) throws IOException {
        Map<String, Definition> newest = new TreeMap<>(definitions);
        Map<Key, Definition> all = new HashMap<>(versions);
        Map<Definition, Instrument> own = new HashMap<>(read);
        List<Path> files = new ArrayList<>(files(folder));
        Path earlier = folder.resolve(EARLIER);
        if (Files.isDirectory(earlier)) {
            files.addAll(files(earlier));
        }
        for (Path file : files) {
            OwnFile definition = new OwnFile(file);
            Instrument instrument = DefinitionReader.read(definition.name(), definition.bytes());
            add(definition, instrument, newest, all, own);
        }
        return new Catalogue(newest, all, own);
    }

    private void add(
            OwnFile definition,
            Instrument instrument,
            Map<String, Definition> newest,
            Map<Key, Definition> all,
            Map<Definition, Instrument> own) {
        String id = instrument.id().value();
        String version = instrument.facts().version();
        if (definitions.containsKey(id)) {
            throw new DefinitionFaultsException(
                    definition.name(),
                    List.of("$.id: '" + id + "' already exists. Give your instrument an id of its own."));
        }
        own.put(definition, instrument);
        Optional<Definition> twin = Optional.ofNullable(all.put(new Key(id, version), definition));
        if (twin.isPresent() && !own.get(twin.get()).facts().equals(instrument.facts())) {
            throw new DefinitionFaultsException(
                    definition.name(),
                    List.of("$.version: " + id + "@" + version + " stands in "
                            + twin.get().name() + " with other content. Raise the version."));
        }
        newest.merge(id, definition, (before, now) -> {
            String versionBefore = own.get(before).facts().version();
            return BY_VERSION.compare(versionBefore, version) > 0 ? before : now;
        });
    }

    /** The definition files of a folder, by name. */
    static List<Path> files(Path folder) throws IOException {
        try (Stream<Path> list = Files.list(folder)) {
            return list.filter(p -> p.toString().endsWith(".json")).sorted().toList();
        }
    }

    /** The conditions that thresholds and groups know. */
    public ConditionVocabulary conditions() {
        return ConditionReader.builtIn();
    }

    /** Ids in alphabetical order. */
    public List<InstrumentId> ids() {
        return definitions.keySet().stream().map(InstrumentId::new).toList();
    }

    /**
     * The instrument with that id in its newest version, or in the one that {@link #reading} asked for; or empty.
     *
     * @throws DefinitionFaultsException if its definition has a fault
     */
    public Optional<Instrument> find(String id) {
        return Optional.ofNullable(definitions.get(id)).map(definition -> instrument(id, definition));
    }

    /**
     * That version of an instrument, or empty.
     *
     * @throws DefinitionFaultsException if its definition has a fault
     */
    public Optional<Instrument> find(String id, String version) {
        return Optional.ofNullable(versions.get(new Key(id, version))).map(definition -> instrument(id, definition));
    }

    /** The versions of an instrument that can be read, newest first; none if there is no such instrument. */
    public List<String> versions(String id) {
        return versions.keySet().stream()
                .filter(key -> key.id().equals(id))
                .map(Key::version)
                .sorted(BY_VERSION.reversed())
                .toList();
    }

    /**
     * This catalogue, in which {@link #find(String)} gives that version of the instrument.
     *
     * @throws IllegalArgumentException if there is no such version
     */
    public Catalogue reading(String id, String version) {
        Definition definition = Optional.ofNullable(versions.get(new Key(id, version)))
                .orElseThrow(() -> new IllegalArgumentException(
                        "There is no " + id + "@" + version + ". Versions are " + versions(id)));
        Map<String, Definition> chosen = new TreeMap<>(definitions);
        chosen.put(id, definition);
        return new Catalogue(chosen, versions, read);
    }

    private Instrument instrument(String id, Definition definition) {
        Instrument known = read.get(definition);
        if (known != null) {
            return known;
        }
        Instrument instrument = parse(definition);
        if (!instrument.id().value().equals(id)) {
            throw new DefinitionFaultsException(
                    definition.name(), List.of("$.id: '" + instrument.id() + "', but the file is named " + id + "."));
        }
        Instrument first = read.putIfAbsent(definition, instrument);
        return first == null ? instrument : first;
    }

    private static Instrument parse(Definition definition) {
        try {
            return DefinitionReader.read(definition.name(), definition.bytes());
        } catch (IOException e) {
            throw new UncheckedIOException(e);
        }
    }

    /** The instrument whose columns start with the part of {@code heading} before its first {@code _}, or empty. */
    public Optional<Instrument> ownerOf(String heading) {
        int end = heading.indexOf('_');
        return end < 0 ? Optional.empty() : find(heading.substring(0, end));
    }

    /** Every instrument, by id. */
    public List<Instrument> all() {
        return definitions.entrySet().parallelStream()
                .map(e -> instrument(e.getKey(), e.getValue()))
                .toList();
    }

    /** What a list says of every instrument, by id. No definition of this library is read for it. */
    public List<Summary> summaries() {
        return definitions.entrySet().stream()
                .map(e -> e.getValue() instanceof BuiltIn builtIn
                        ? Summary.parse(builtIn.line())
                        : Summary.of(instrument(e.getKey(), e.getValue())))
                .toList();
    }

    /** Instruments that are not scored here, and why. */
    public static List<NotIncluded> notIncluded() {
        try {
            Json json = Json.parse(Resources.bytes("not-included.json"));
            Faults faults = new Faults();
            List<NotIncluded> list = ((Json.Arr) json)
                    .elements().stream()
                            .map(element -> Node.of(element, "$", faults))
                            .map(node -> new NotIncluded(
                                    node.text("name"), node.text("reason"), node.text("needed"), node.text("source")))
                            .toList();
            if (!faults.none()) {
                throw new DefinitionFaultsException("not-included.json", faults.lines());
            }
            return list;
        } catch (IOException e) {
            throw new UncheckedIOException(e);
        }
    }
}
