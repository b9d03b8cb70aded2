package lumbrical.catalogue;

import java.io.IOException;
import java.io.InputStream;
import java.io.UncheckedIOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.TreeMap;
import java.util.concurrent.ConcurrentHashMap;
import java.util.stream.Stream;
import lumbrical.document.Faults;
import lumbrical.document.Json;
import lumbrical.document.Node;
import lumbrical.instrument.Instrument;
import lumbrical.instrument.InstrumentId;

/**
 * The instruments that can be scored, by id. A definition is read when it is first asked for. Safe to share between threads.
 */
public final class Catalogue {
    private static final String FOLDER = "definitions/";

    private final Map<String, Definition> definitions;
    private final Map<String, Instrument> read = new ConcurrentHashMap<>();

    /** Where a definition comes from. */
    private interface Definition {
        byte[] bytes() throws IOException;

        String name();
    }

    /** One of this library: its id and its line of the index. */
    private record BuiltIn(String id, String line) implements Definition {
        @Override
        public byte[] bytes() throws IOException {
            return resource(FOLDER + id + ".json");
        }

        @Override
        public String name() {
            return "instruments/definitions/" + id + ".json";
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

    private Catalogue(Map<String, Definition> definitions) {
        this.definitions = definitions;
    }

    /** The instruments shipped with this library. */
    public static Catalogue builtIn() {
        try {
            Map<String, Definition> definitions = new TreeMap<>();
            for (String line : new String(resource("definitions.tsv"), StandardCharsets.UTF_8).split("\n")) {
                String id = line.substring(0, line.indexOf('\t'));
                definitions.put(id, new BuiltIn(id, line));
            }
            return new Catalogue(definitions);
        } catch (IOException e) {
            throw new UncheckedIOException(e);
        }
    }

    private static byte[] resource(String name) throws IOException {
        try (InputStream in = Catalogue.class.getResourceAsStream(name)) {
            if (in == null) {
                throw new IOException("The library lacks its resource " + name);
            }
            return in.readAllBytes();
        }
    }

    /**
     * This catalogue and the definitions of a folder: every {@code *.json} in it. All are read and checked at once.
     *
     * @throws DefinitionFaultsException if one has a fault, or an id that already exists
     * @throws IOException if the folder or a file in it cannot be read
     */
    public Catalogue with(Path folder) throws IOException {
        Map<String, Definition> more = new TreeMap<>(definitions);
        List<Instrument> own = new ArrayList<>();
        for (Path file : files(folder)) {
            OwnFile definition = new OwnFile(file);
            Instrument instrument = DefinitionReader.read(definition.name(), definition.bytes());
            if (more.put(instrument.id().value(), definition) != null) {
                throw new DefinitionFaultsException(
                        definition.name(),
                        List.of("$.id: '" + instrument.id()
                                + "' already exists. Give your instrument an id of its own."));
            }
            own.add(instrument);
        }
        Catalogue catalogue = new Catalogue(more);
        own.forEach(instrument -> catalogue.read.put(instrument.id().value(), instrument));
        return catalogue;
    }

    /** The definition files of a folder, by name. */
    static List<Path> files(Path folder) throws IOException {
        try (Stream<Path> list = Files.list(folder)) {
            return list.filter(p -> p.toString().endsWith(".json")).sorted().toList();
        }
    }

    /** Ids in alphabetical order. */
    public List<InstrumentId> ids() {
        return definitions.keySet().stream().map(InstrumentId::new).toList();
    }

    /**
     * The instrument with that id, or empty.
     *
     * @throws DefinitionFaultsException if its definition has a fault
     */
    public Optional<Instrument> find(String id) {
        Instrument known = read.get(id);
        if (known != null) {
            return Optional.of(known);
        }
        return Optional.ofNullable(definitions.get(id)).map(definition -> {
            Instrument instrument = parse(definition);
            if (!instrument.id().value().equals(id)) {
                throw new DefinitionFaultsException(
                        definition.name(),
                        List.of("$.id: '" + instrument.id() + "', but the file is named " + id + "."));
            }
            read.put(id, instrument);
            return instrument;
        });
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
        return definitions.keySet().parallelStream()
                .map(id -> find(id).orElseThrow())
                .toList();
    }

    /** What a list says of every instrument, by id. No definition of this library is read for it. */
    public List<Summary> summaries() {
        return definitions.entrySet().stream()
                .map(e -> e.getValue() instanceof BuiltIn builtIn
                        ? Summary.parse(builtIn.line())
                        : Summary.of(find(e.getKey()).orElseThrow()))
                .toList();
    }

    /** Instruments that are not scored here, and why. */
    public static List<NotIncluded> notIncluded() {
        try {
            Json json = Json.parse(resource("not-included.json"));
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
