package lumbrical.site;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import java.util.Map;
import java.util.TreeMap;
import java.util.stream.Stream;
import lumbrical.catalogue.Catalogue;
import lumbrical.instrument.Instrument;
import lumbrical.instrument.Threshold;
import org.jsoup.Jsoup;
import org.jsoup.nodes.Document;
import org.junit.jupiter.api.BeforeAll;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

class SiteMakerTest {
    private static final Path ROOT = Path.of("../..").toAbsolutePath().normalize();

    @TempDir
    static Path temp;

    private static Path site;

    @BeforeAll
    static void make() {
        site = temp.resolve("site");
        // Javadoc may be of an earlier build here; when the site is made, it is of the same.
        assertEquals(
                List.of(),
                SiteMaker.make(ROOT, site, "0").stream()
                        .filter(fault -> !fault.contains("the Javadoc lacks"))
                        .toList());
    }

    @Test
    void everyDocumentAndEveryInstrumentHasItsPage() throws IOException {
        try (Stream<Path> documents = Files.walk(ROOT.resolve("docs"))) {
            List<Path> all = documents.filter(d -> d.toString().endsWith(".md")).toList();
            assertTrue(all.size() >= 12, all.toString());
            for (Path document : all) {
                String page = ROOT.relativize(document).toString().replaceFirst("md$", "html");
                assertTrue(Files.exists(site.resolve(page)), page);
            }
        }
        for (Instrument instrument : Catalogue.builtIn().all()) {
            assertTrue(
                    Files.exists(site.resolve("instruments/" + instrument.id().value() + ".html")));
        }
        // The contributors' guide is for the repository.
        assertTrue(Files.notExists(site.resolve("DEVELOPERS.html")));
    }

    /** The definition's file is what was written by hand; the page must hold each of its facts. */
    @Test
    void thePageOfAnInstrumentHoldsItsItemsThresholdsAndSources() throws IOException {
        for (Instrument instrument : Catalogue.builtIn().all()) {
            Document page = page("instruments/" + instrument.id().value() + ".html");
            String text = page.text();
            instrument.columns().forEach(c -> assertTrue(text.contains(c.name()), c.name()));
            instrument.thresholds().forEach(t -> assertTrue(text.contains(t.id()), t.id()));
            instrument.facts().sources().forEach(s -> assertTrue(text.contains(s.key()), s.key()));
            assertEquals(
                    instrument.thresholds().size(),
                    page.select("table.thresholds tbody tr").size());
            assertTrue(text.contains("Scores support and never replace clinical judgement."));
        }
    }

    /** Gummesson 2006 (doi:10.1186/1471-2474-7-44): 10 of 11 items, the mean of the answered, minus 1, times 25. */
    @Test
    void theRuleOfQuickDashReadsAsPublished() throws IOException {
        String text = page("instruments/quickdash.html").text();
        assertTrue(text.contains("(mean - 1) x 25"), text);
        assertTrue(text.contains("at least 10 of 11; the mean of the answered stands in"), text);
    }

    @Test
    void aValueOfAnotherPopulationSaysSo() throws IOException {
        int seen = 0;
        for (Instrument instrument : Catalogue.builtIn().all()) {
            Document page = page("instruments/" + instrument.id().value() + ".html");
            for (int i = 0; i < instrument.thresholds().size(); i++) {
                Threshold t = instrument.thresholds().get(i);
                boolean said =
                        page.select("table.thresholds tbody tr").get(i).text().contains("other population");
                assertEquals(t.otherPopulation(), said, t.id());
                seen += said ? 1 : 0;
            }
        }
        assertTrue(seen > 0);
    }

    @Test
    void thePublicTypesOfALibraryAreThoseItsModuleExports() throws IOException {
        List<String> types = PublicTypes.of(ROOT.resolve("shared/verification/src/main/java"));
        assertTrue(types.contains("lumbrical.verification/lumbrical/verification/DossierPage.html"), types.toString());
        assertTrue(types.contains("lumbrical.verification/lumbrical/verification/StatedRule.html"), types.toString());
        // In a package of the module that it keeps to itself.
        assertTrue(types.stream().noneMatch(t -> t.contains("/page/")), types.toString());
    }

    @Test
    void aDocumentNamedInCodeTypeIsALink() throws IOException {
        assertTrue(page("index.html").select("a[href=docs/cohort.html]").size() > 0);
    }

    @Test
    void linksThatLeadNowhereAreFound() throws IOException {
        Path folder = temp.resolve("broken");
        Files.createDirectories(folder.resolve("docs"));
        Files.writeString(folder.resolve("docs/b.html"), "<h2 id=here>here</h2>");
        Files.writeString(
                folder.resolve("a.html"),
                "<a href='docs/b.html#here'></a><a href='docs/b.html#there'></a><a href='c.html'></a><img src='d.png'>"
                        + "<a href='../outside.html'></a><a href='https://doi.org/10.1186/1471-2474-7-44'></a><a href='https:'></a>");
        assertEquals(
                List.of(
                        "a.html: ../outside.html",
                        "a.html: c.html",
                        "a.html: d.png",
                        "a.html: docs/b.html#there",
                        "a.html: https:"),
                LinkCheck.broken(folder));
    }

    @Test
    void theSameDocumentsGiveTheSameBytes() throws IOException {
        Path again = temp.resolve("again");
        SiteMaker.make(ROOT, again, "0");
        assertEquals(bytes(site), bytes(again));
    }

    private static Map<String, String> bytes(Path folder) throws IOException {
        Map<String, String> bytes = new TreeMap<>();
        try (Stream<Path> files = Files.walk(folder)) {
            for (Path file : files.filter(Files::isRegularFile).toList()) {
                bytes.put(
                        folder.relativize(file).toString(),
                        new java.math.BigInteger(1, Files.readAllBytes(file)).toString(16));
            }
        }
        return bytes;
    }

    private static Document page(String name) throws IOException {
        return Jsoup.parse(site.resolve(name).toFile(), "UTF-8");
    }
}
