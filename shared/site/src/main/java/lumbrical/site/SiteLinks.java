package lumbrical.site;

import java.nio.file.Files;
import java.nio.file.Path;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import lumbrical.instrument.Instrument;

/** Where on the site a file of the project is to be found. */
final class SiteLinks {
    private final Path root;
    private final Map<String, String> pages = new HashMap<>();

    SiteLinks(Path root, List<String> documents, List<Instrument> instruments) {
        this.root = root;
        documents.forEach(d -> pages.put(d, pageOf(d)));
        instruments.forEach(i -> pages.put(
                "instruments/definitions/" + i.id().value() + ".json", "instruments/" + i.id().value() + ".html"));
        pages.put("docs", "documents.html");
        pages.put("docs/registry", "documents.html");
        pages.put("instruments", "instruments/index.html");
    }

    /** The page of a document: README.md is the first one. */
    static String pageOf(String document) {
        return document.equals("README.md") ? "index.html" : document.replaceFirst("\\.md$", ".html");
    }

    /** Where a path that a document names leads, as seen from that document; empty if the site has no such page. */
    Optional<String> from(String document, String path) {
        String folder = document.contains("/") ? document.substring(0, document.lastIndexOf('/') + 1) : "";
        return find(Path.of(folder).resolve(path).normalize().toString().replace('\\', '/'))
                .or(() -> find(path))
                .map(target ->
                        "../".repeat(folder.length() - folder.replace("/", "").length()) + target);
    }

    private Optional<String> find(String path) {
        String page = pages.get(path);
        if (page != null) {
            return Optional.of(page);
        }
        // What lies beside the documents is copied as it is.
        return path.startsWith("docs/") && Files.isRegularFile(root.resolve(path))
                ? Optional.of(path)
                : Optional.empty();
    }
}
