package lumbrical.command;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import java.util.stream.Stream;
import lumbrical.catalogue.Catalogue;
import lumbrical.instrument.Instrument;
import lumbrical.number.Numbers;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/** What can be asked of the instruments; held against the definitions themselves. */
class InstrumentsCommandTest {
    @TempDir
    private Path folder;

    private static Run instruments(String... more) {
        return Run.of(Stream.concat(Stream.of("instruments"), Stream.of(more)).toList());
    }

    private static List<String> lines(String... more) {
        Run run = instruments(more);
        assertEquals(0, run.status(), run.err());
        return run.out().lines().toList();
    }

    @Test
    void theListNamesEveryInstrumentOnceWithItsLicence() {
        List<String> lines = lines();
        for (Instrument instrument : Catalogue.builtIn().all()) {
            String start = instrument.id() + "  " + instrument.facts().title();
            List<Integer> at = Stream.iterate(0, i -> i < lines.size(), i -> i + 1)
                    .filter(i -> lines.get(i).equals(start) || lines.get(i).startsWith(start + "  ["))
                    .toList();
            assertEquals(1, at.size(), start);
            assertTrue(lines.get(at.get(0) + 2).startsWith("    licence: "), start);
        }
        assertTrue(lines.get(lines.size() - 1).contains("What a clinic must license, it licenses itself."));
    }

    @Test
    void whatHasNoScorerIsListedWithWhatIsNeeded() {
        List<String> lines = lines("--not-included");
        assertEquals(4 * Catalogue.notIncluded().size(), lines.size());
        Catalogue.notIncluded().forEach(n -> {
            int at = lines.indexOf(n.name());
            assertEquals(
                    List.of("  why: " + n.reason(), "  needed: " + n.needed(), "  source: " + n.source()),
                    lines.subList(at + 1, at + 4));
        });
    }

    @Test
    void oneInFullShowsColumnsScalesAndSourcesAndPointsToTheThresholds() {
        for (Instrument instrument : Catalogue.builtIn().all()) {
            String id = instrument.id().value();
            String text = instruments(id.toUpperCase(java.util.Locale.ROOT)).out();
            assertTrue(text.startsWith(instrument.definition() + "  "), text);
            instrument.columns().forEach(c -> assertTrue(text.contains("\n  " + c.name()), c.name()));
            instrument.scales().forEach(s -> assertTrue(text.contains("\n  " + s.id()), id + " " + s.id()));
            instrument.facts().sources().forEach(s -> assertTrue(text.contains("\n  " + s.key() + ": "), s.key()));
            assertTrue(text.contains("thresholds: " + instrument.thresholds().size() + "; --list-thresholds"), id);
        }
    }

    /** Each threshold of each definition stands in the list with its value, so that its id can be chosen. */
    @Test
    void theListOfThresholdsHoldsAllOfEveryInstrument() {
        int seen = 0;
        for (Instrument instrument : Catalogue.builtIn().all()) {
            List<String> lines = lines(instrument.id().value(), "--list-thresholds");
            for (var threshold : instrument.thresholds()) {
                List<String> found = lines.stream()
                        .filter(l -> l.contains("| " + threshold.id() + " |"))
                        .toList();
                assertEquals(1, found.size(), instrument.id() + " " + threshold.id());
                assertTrue(found.get(0).startsWith(threshold.scale() + " | "), found.get(0));
                threshold
                        .value()
                        .ifPresent(v -> assertTrue(found.get(0).contains("| " + Numbers.format(v)), found.get(0)));
                assertTrue(
                        found.get(0).contains(threshold.provenance().standing().code()), found.get(0));
                seen++;
            }
        }
        assertTrue(seen > 100, "only " + seen);
    }

    @Test
    void itIsWrittenToAFileOnRequest() throws IOException {
        Path out = folder.resolve("nprs.txt");
        Run run = instruments("nprs", "--list-thresholds", "--out", out.toString());
        assertEquals(0, run.status(), run.err());
        assertEquals("", run.out());
        assertEquals(instruments("nprs", "--list-thresholds").out(), Files.readString(out));
        assertEquals(2, instruments("nprs", "--out", out.toString()).status(), "never replaced unasked");
    }

    @Test
    void aNameThatIsAlmostRightIsNamed() {
        Run run = instruments("quickdsh");
        assertEquals(2, run.status());
        assertTrue(
                run.err().startsWith("'quickdsh' is no instrument. Did you mean quickdash? Instruments are bctq, "),
                run.err());
        Run far = instruments("zzzzzzzz");
        assertTrue(far.err().startsWith("'zzzzzzzz' is no instrument. Instruments are bctq, "), far.err());
    }

    @Test
    void anEarlierVersionIsShownWhereThereIsOne() {
        String newest = Catalogue.builtIn().find("sane").orElseThrow().facts().version();
        String earlier = Catalogue.builtIn().versions("sane").stream()
                .filter(version -> !version.equals(newest))
                .findFirst()
                .orElseThrow();
        assertTrue(lines("sane", "--definition", "SANE@" + earlier).get(0).startsWith("sane@" + earlier + "  "));
        assertTrue(lines("sane").get(0).startsWith("sane@" + newest + "  "));
    }
}
