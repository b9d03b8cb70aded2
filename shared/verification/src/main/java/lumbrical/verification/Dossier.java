package lumbrical.verification;

import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.function.Function;
import java.util.stream.Collectors;
import lumbrical.catalogue.Catalogue;
import lumbrical.instrument.Instrument;
import lumbrical.instrument.InstrumentId;

/**
 * The validation record of an installation: what it is, what each rule rests on, which vectors hold each fact, and what they say
 * here and now.
 *
 * @param installation program, Java, system and hashes, a line each
 * @param report how the vectors fared
 * @param definitions a chapter for each instrument, by id
 * @param files definitions and vector files, against the released ones
 */
public record Dossier(
        List<String> installation, VectorReport report, List<Chapter> definitions, List<ReleasedFile> files) {
    /** Copies the lists. */
    public Dossier {
        installation = List.copyOf(installation);
        definitions = List.copyOf(definitions);
        files = List.copyOf(files);
    }

    /**
     * A definition.
     *
     * @param instrument the definition
     * @param vectors how its vectors fared, if it has any
     * @param rules what its scores rest on
     * @param held facts that a vector or the reader of definitions holds
     * @param open facts that nothing holds
     */
    public record Chapter(
            Instrument instrument,
            Optional<VectorReport.PerInstrument> vectors,
            List<StatedRule> rules,
            List<FactProof.Fact> held,
            List<OpenFact> open) {
        /** Copies the lists. */
        public Chapter {
            rules = List.copyOf(rules);
            held = List.copyOf(held);
            open = List.copyOf(open);
        }
    }

    /**
     * A fact that no vector holds.
     *
     * @param fact which, and how it was changed
     * @param reason why no score differs; empty if nobody has said so
     */
    public record OpenFact(String fact, Optional<String> reason) {}

    /**
     * Makes the record: runs every vector, and every vector again on each definition with one fact changed, which takes seconds.
     *
     * @param folder the installation's {@code test-vectors}
     * @param installation program, Java, system and hashes, a line each
     * @throws java.io.UncheckedIOException if the folder cannot be read
     */
    public static Dossier of(Path folder, List<String> installation) {
        Catalogue catalogue = Catalogue.builtIn();
        VectorReport report = VectorRun.run(folder, catalogue);
        Map<String, String> reasons = Equivalent.listed(folder).stream()
                .collect(Collectors.toMap(e -> key(e.definition(), e.fact()), Equivalent::reason, (a, b) -> a));
        Map<String, VectorReport.PerInstrument> fared = report.instruments().stream()
                .collect(Collectors.toMap(VectorReport.PerInstrument::id, Function.identity()));
        List<Chapter> chapters = catalogue.ids().parallelStream()
                .map(id -> chapter(folder, catalogue, id, Optional.ofNullable(fared.get(id.value())), reasons))
                .toList();
        return new Dossier(installation, report, chapters, ReleasedFile.of(folder));
    }

    private static Chapter chapter(
            Path folder,
            Catalogue catalogue,
            InstrumentId id,
            Optional<VectorReport.PerInstrument> fared,
            Map<String, String> reasons) {
        Instrument instrument = catalogue.find(id.value()).orElseThrow();
        List<FactProof.Fact> held = new ArrayList<>();
        List<OpenFact> open = new ArrayList<>();
        for (FactProof.Fact fact : FactProof.of(folder, id.value())) {
            if (fact.held()) {
                held.add(fact);
            } else {
                open.add(new OpenFact(fact.fact(), Optional.ofNullable(reasons.get(key(id.value(), fact.fact())))));
            }
        }
        return new Chapter(instrument, fared, StatedRule.of(instrument), held, open);
    }

    private static String key(String definition, String fact) {
        return definition + " " + fact;
    }
}
