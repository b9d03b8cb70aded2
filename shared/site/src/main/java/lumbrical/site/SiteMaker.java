package lumbrical.site;

import gg.jte.html.OwaspHtmlTemplateOutput;
import gg.jte.output.StringOutput;
import java.io.IOException;
import java.io.UncheckedIOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.List;
import java.util.TreeSet;
import java.util.stream.Stream;
import lumbrical.catalogue.Catalogue;
import lumbrical.instrument.Instrument;

/**
 * Makes the site: a page of each document and of each instrument, and the Javadoc of the libraries where it has been made. Everything is
 * plain HTML with relative links, so it reads from a folder as from a server. The same documents give the same bytes.
 */
public final class SiteMaker {
    /** The libraries, in the order in which a reader meets them; each with where its Javadoc lies. */
    private static final List<String> LIBRARIES = List.of(
            "scoring-core",
            "instruments",
            "shared/tabular",
            "shared/columns",
            "shared/intake",
            "shared/workbook",
            "shared/report",
            "shared/registry",
            "shared/verification");

    private static final String STYLE =
            """
            body{margin:0 auto;max-width:1000px;padding:0 20px 60px;font:16px/1.5 "Liberation Sans",Arial,sans-serif;color:#111;background:#fff}
            nav{border-bottom:1px solid #888;padding:12px 0;margin-bottom:24px}nav a{margin-right:20px}
            h1{font-size:28px;line-height:1.2}h2{font-size:21px;margin-top:34px}h3{font-size:17px;margin-top:24px}
            a{color:#0b4f7d}
            .wide{overflow-x:auto}
            table{border-collapse:collapse;margin:8px 0 18px}
            th,td{text-align:left;vertical-align:top;padding:4px 14px 4px 0;border-bottom:1px solid #ccc;font-weight:400}
            thead th{border-bottom:1px solid #111;font-weight:700}
            caption{text-align:left;color:#333;padding:4px 0}
            .thresholds td,.thresholds th{font-size:14px}
            .quiet{color:#555}
            pre{background:#f4f4f4;padding:12px;overflow-x:auto}code{font:14px "Liberation Mono",monospace}
            blockquote{margin:16px 0;padding:4px 16px;border-left:4px solid #888}
            img{max-width:100%}
            @media print{body{font-size:11px;max-width:none}nav{display:none}thead{display:table-header-group}tr{break-inside:avoid}}
            """;

    private final Path root;
    private final Path site;
    private final String version;
    private final List<String> undocumented = new ArrayList<>();

    private SiteMaker(Path root, Path site, String version) {
        this.root = root;
        this.site = site;
        this.version = version;
    }

    /**
     * Makes the site anew and follows its links.
     *
     * @param args the folder of the project, the folder of the site, the version
     * @throws IllegalStateException if a link leads nowhere, or the Javadoc lacks a public type
     * @throws UncheckedIOException if a document cannot be read or a page not be written
     */
    public static void main(String[] args) {
        List<String> broken = make(Path.of(args[0]).toAbsolutePath().normalize(), Path.of(args[1]), args[2]);
        if (!broken.isEmpty()) {
            throw new IllegalStateException("What the site lacks:\n" + String.join("\n", broken));
        }
    }

    /** Makes the site anew; returns what it lacks: links that lead nowhere, each with its page, and public types without Javadoc. */
    static List<String> make(Path root, Path site, String version) {
        try {
            deleteAll(site);
            SiteMaker maker = new SiteMaker(root, site, version);
            maker.make();
            List<String> faults = new ArrayList<>(maker.undocumented);
            faults.addAll(LinkCheck.broken(site));
            return faults;
        } catch (IOException e) {
            throw new UncheckedIOException(e);
        }
    }

    private void make() throws IOException {
        Files.createDirectories(site);
        Files.writeString(site.resolve("style.css"), STYLE);
        List<Instrument> instruments = Catalogue.builtIn().all();
        instruments(instruments);
        List<DocumentLink> documents = documents(instruments);
        List<String> libraries = javadoc();
        page(
                "documents.html",
                "Documents and libraries",
                content -> JtedocumentsGenerated.render(content, null, documents, libraries));
    }

    private void instruments(List<Instrument> instruments) throws IOException {
        List<InstrumentView> views = instruments.stream()
                .map(i -> InstrumentView.of(i, Catalogue.builtIn().conditions()))
                .toList();
        page(
                "instruments/index.html",
                "Instruments",
                content -> JteinstrumentsGenerated.render(content, null, views, Catalogue.notIncluded()));
        for (InstrumentView view : views) {
            page(
                    "instruments/" + view.id() + ".html",
                    view.title(),
                    content -> JteinstrumentGenerated.render(content, null, view));
        }
    }

    /** The documents that users read, README first; pictures and examples beside them are copied. */
    private List<DocumentLink> documents(List<Instrument> instruments) throws IOException {
        List<String> pages = new ArrayList<>(List.of("README.md", "CHANGELOG.md"));
        TreeSet<String> others = new TreeSet<>();
        try (Stream<Path> files = Files.walk(root.resolve("docs"))) {
            for (Path file : files.filter(Files::isRegularFile).toList()) {
                String name = root.relativize(file).toString().replace('\\', '/');
                if (name.endsWith(".md")) {
                    others.add(name);
                } else {
                    copy(file, site.resolve(name));
                }
            }
        }
        pages.addAll(others);
        SiteLinks links = new SiteLinks(root, pages, instruments);
        List<DocumentLink> documents = new ArrayList<>();
        for (String name : pages) {
            MarkdownDocument document = MarkdownDocument.of(Files.readString(root.resolve(name)), name, links);
            String file = SiteLinks.pageOf(name);
            documents.add(new DocumentLink(file, document.title(), name));
            page(file, document.title(), content -> JtedocumentGenerated.render(content, null, document.html()));
        }
        return documents;
    }

    /** The libraries whose Javadoc there is. */
    private List<String> javadoc() throws IOException {
        List<String> found = new ArrayList<>();
        for (String library : LIBRARIES) {
            Path made = root.resolve(library).resolve("target/reports/apidocs");
            if (Files.exists(made.resolve("index.html"))) {
                PublicTypes.of(root.resolve(library).resolve("src/main/java")).stream()
                        .filter(page -> !Files.exists(made.resolve(page)))
                        .forEach(page -> undocumented.add(library + ": the Javadoc lacks " + page));
                String name = library.substring(library.lastIndexOf('/') + 1);
                copyAll(made, site.resolve("api").resolve(name));
                found.add(name);
            }
        }
        return found;
    }

    private void page(String file, String title, Content content) throws IOException {
        String up = "../".repeat(file.length() - file.replace("/", "").length());
        StringOutput body = new StringOutput();
        content.write(new OwaspHtmlTemplateOutput(body));
        StringOutput whole = new StringOutput();
        JtepageGenerated.render(new OwaspHtmlTemplateOutput(whole), null, title, version, up, body.toString());
        Path target = site.resolve(file);
        makeFolderOf(target);
        Files.writeString(target, whole.toString());
    }

    private static void copy(Path from, Path to) throws IOException {
        makeFolderOf(to);
        Files.copy(from, to);
    }

    private static void makeFolderOf(Path file) throws IOException {
        Path folder = file.getParent();
        if (folder != null) {
            Files.createDirectories(folder);
        }
    }

    private static void copyAll(Path from, Path to) throws IOException {
        try (Stream<Path> files = Files.walk(from)) {
            for (Path file : files.filter(Files::isRegularFile).toList()) {
                copy(file, to.resolve(from.relativize(file).toString()));
            }
        }
    }

    private static void deleteAll(Path folder) throws IOException {
        if (Files.exists(folder)) {
            try (Stream<Path> files = Files.walk(folder)) {
                for (Path file : files.sorted(Comparator.reverseOrder()).toList()) {
                    Files.delete(file);
                }
            }
        }
    }

    /** A document of the site: its page, its title, the file it was made of. */
    record DocumentLink(String page, String title, String file) {}

    private interface Content {
        void write(OwaspHtmlTemplateOutput out);
    }
}
