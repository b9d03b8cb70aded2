package lumbrical.catalogue;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.util.List;
import java.util.Map;
import java.util.function.Function;
import java.util.regex.Pattern;
import java.util.stream.Collectors;
import lumbrical.instrument.Composition;
import lumbrical.instrument.Instrument;
import lumbrical.instrument.Provenance;
import lumbrical.instrument.ResponseSet;
import lumbrical.instrument.Scale;
import lumbrical.instrument.ScaleId;
import lumbrical.instrument.ScoreStanding;
import lumbrical.instrument.Source;
import lumbrical.instrument.Standing;
import lumbrical.instrument.Threshold;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

/** No fact claims more than its source allows by docs/definitions.md. */
class ShippedStandingsTest {
    /** Kinds of places that quote others. */
    private static final Pattern QUOTES = Pattern.compile(
            "(?i)encyclopedia|handbook|summary page|rehabilitation summary|review chapter|citation report");

    @Test
    void whatAQuotingPlaceSaysIsNotPublished() {
        int facts = 0;
        for (Instrument instrument : Catalogue.builtIn().all()) {
            Map<String, Source> sources =
                    instrument.facts().sources().stream().collect(Collectors.toMap(Source::key, Function.identity()));
            for (Provenance fact : facts(instrument)) {
                facts++;
                Source source = sources.get(fact.source());
                if (source != null && QUOTES.matcher(source.citation()).find()) {
                    assertTrue(
                            !fact.published(),
                            () -> instrument + ": " + source.key() + " quotes others: " + source.citation());
                }
                if (fact.source().equals("from-memory")) {
                    assertEquals(Standing.FROM_MEMORY, fact.standing(), instrument.toString());
                }
            }
        }
        assertTrue(facts > 500, facts + " facts");
    }

    private static List<Provenance> facts(Instrument instrument) {
        List<Provenance> facts = new java.util.ArrayList<>();
        Instrument.Facts f = instrument.facts();
        facts.add(f.recall().provenance());
        facts.add(f.licence().provenance());
        facts.add(f.change().provenance());
        f.bothHands().ifPresent(facts::add);
        f.responseSets().stream().map(ResponseSet::provenance).forEach(facts::add);
        f.thresholds().stream().map(Threshold::provenance).forEach(facts::add);
        for (Scale scale : f.scales()) {
            if (scale.composition() instanceof Composition.FromItems made) {
                facts.add(made.rule().provenance());
                facts.add(made.missing().provenance());
                made.skip().ifPresent(s -> facts.add(s.provenance()));
            } else if (scale.composition() instanceof Composition.FromParts made) {
                facts.add(made.rule().provenance());
            }
            scale.noVerdictBefore().ifPresent(n -> facts.add(n.provenance()));
        }
        return facts;
    }

    /** Worked out by hand from the evidence each definition names. */
    @ParameterizedTest
    @CsvSource({
        "dash, total, published, published",
        "dash, work, published, published",
        "quickdash, total, published, published",
        "quickdash, work, published, from-memory",
        "prwe, pain, second-hand, from-memory",
        "prwe, total, from-memory, from-memory",
        "prwhe, total, from-memory, from-memory",
        "fihoa, total, second-hand, ours",
        "uefi20, total, second-hand, ours",
        "cochin, total, second-hand, ours",
        "bctq, symptom-severity, from-memory, from-memory",
        "bmhq, total, from-memory, from-memory",
        "mhq, total, from-memory, from-memory",
        "promispi4a, tscore, second-hand, second-hand",
        "promispf4a, tscore, from-memory, from-memory",
        "psfs, total, published, published",
        "maphand, total, published, published",
        "ulfi, total, from-memory, from-memory"
    })
    void aScoreIsAsSureAsTheWeakestOfWhatItRestsOn(String id, String scaleId, String complete, String withMissing) {
        Instrument instrument = Catalogue.builtIn().find(id).orElseThrow();
        Scale scale = instrument.scale(new ScaleId(scaleId)).orElseThrow();
        assertEquals(complete, ScoreStanding.of(instrument, scale, false).code());
        assertEquals(withMissing, ScoreStanding.of(instrument, scale, true).code());
    }
}
