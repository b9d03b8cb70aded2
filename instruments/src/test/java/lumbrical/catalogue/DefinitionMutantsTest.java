package lumbrical.catalogue;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.util.List;
import java.util.Set;
import java.util.stream.Collectors;
import lumbrical.instrument.Instrument;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

/** The facts that are changed; which vectors notice is tested where vectors are run. */
class DefinitionMutantsTest {
    private static List<DefinitionMutants.Mutant> of(String id) {
        return DefinitionMutants.ofBuiltIn(id);
    }

    /** One fact of each kind, read off the definitions. */
    @ParameterizedTest
    @CsvSource(
            delimiter = '|',
            value = {
                "dash | responseSets.difficulty.codes: without 3.0",
                "dash | responseSets.difficulty.codes: with 0.0",
                "dash | responseSets.difficulty.codes: with 6.0",
                "sane | responseSets.rating.range[1]: 101.0",
                "dash | items.1.better: turned round",
                "dash | scales.total.better: turned round",
                "dash | scales.total.range[0]: one less",
                "dash | scales.total.items: without 30",
                "bmhq | scales.total.items.1: turned round",
                "prwe | scales.total.parts: without pain",
                "mhq | scales.total.parts.pain: turned round",
                "dash | scales.total.rule.minus: 2.0",
                "dash | scales.total.rule.times: 24.0",
                "prwe | scales.function.rule.dividedBy: 1.0",
                "prwe | scales.pain.rule.dividedBy: 2",
                "mhq | scales.function.rule.zeroAt: 26.0",
                "promispf4a | scales.tscore.rule.rows[0].score: a tenth more",
                "promispf4a | scales.tscore.rule.rows[16].standardError: a tenth more",
                "dash | scales.total.missing.minimum: 28 of 30",
                "mhq | scales.work.missing.minimum: 2 of 5",
                "uram | scales.total.missing.minimum: 7 of 9",
                "dash | scales.total.missing: none allowed",
                "dash | scales.work.missing: one allowed",
                "mhq | scales.pain.skip: none",
                "mhq | scales.pain.skip.score: 1.0",
                "mhq | hands: none"
            })
    void everyKindOfFactIsChanged(String id, String fact) {
        DefinitionMutants.Mutant mutant = of(id).stream()
                .filter(m -> m.fact().equals(fact))
                .findFirst()
                .orElseThrow(() -> new AssertionError(
                        of(id).stream().map(DefinitionMutants.Mutant::fact).collect(Collectors.joining("\n"))));
        Instrument original = Catalogue.builtIn().find(id).orElseThrow();
        mutant.instrument().ifPresent(changed -> assertTrue(!changed.facts().equals(original.facts()), fact));
    }

    @Test
    void noFactIsNamedTwiceAndNoneLeavesTheDefinitionAsItIs() {
        int refused = 0;
        int all = 0;
        for (Instrument instrument : Catalogue.builtIn().all()) {
            List<DefinitionMutants.Mutant> mutants = of(instrument.id().value());
            Set<String> names =
                    mutants.stream().map(DefinitionMutants.Mutant::fact).collect(Collectors.toSet());
            assertEquals(mutants.size(), names.size(), () -> instrument + " names a fact twice");
            for (DefinitionMutants.Mutant mutant : mutants) {
                all++;
                refused += mutant.instrument().isEmpty() ? 1 : 0;
                mutant.instrument()
                        .ifPresent(m -> assertTrue(
                                !m.facts().equals(instrument.facts()), () -> instrument + " " + mutant.fact()));
            }
        }
        assertTrue(all > 1900, all + " facts");
        assertTrue(
                refused < all / 10, refused + " of " + all + " are refused by the reader and prove nothing of vectors");
    }
}
