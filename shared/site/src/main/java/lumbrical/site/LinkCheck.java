package lumbrical.site;

import java.io.IOException;
import java.net.URLDecoder;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Set;
import java.util.TreeSet;
import java.util.stream.Collectors;
import java.util.stream.Stream;
import org.jsoup.Jsoup;
import org.jsoup.nodes.Document;
import org.jsoup.nodes.Element;

/** Follows the links of a site that lead into the site itself: to files, pictures and places in a page. */
final class LinkCheck {
    private final Path site;
    private final Map<Path, Set<String>> anchors = new HashMap<>();

    private LinkCheck(Path site) {
        this.site = site;
    }

    /** The links that lead nowhere, each as {@code page: link}, sorted. Javadoc's own pages are its maker's and are not read. */
    static List<String> broken(Path site) throws IOException {
        Path folder = site.toAbsolutePath().normalize();
        LinkCheck check = new LinkCheck(folder);
        TreeSet<String> broken = new TreeSet<>();
        List<Path> pages;
        try (Stream<Path> files = Files.walk(folder)) {
            pages = files.filter(f -> f.toString().endsWith(".html"))
                    .filter(f -> !f.startsWith(folder.resolve("api")))
                    .toList();
        }
        for (Path page : pages) {
            Document document = parse(page);
            List<String> targets = new ArrayList<>();
            for (Element e : document.select("[href]")) {
                targets.add(e.attr("href"));
            }
            for (Element e : document.select("[src]")) {
                targets.add(e.attr("src"));
            }
            for (String target : targets) {
                if (!check.leads(page, target)) {
                    broken.add(folder.relativize(page) + ": " + target);
                }
            }
        }
        return List.copyOf(broken);
    }

    private boolean leads(Path page, String target) throws IOException {
        if (target.matches("[a-z]+:.*")) {
            // A place outside is not asked; it must only name one.
            return target.matches("(https?://[^ ]+\\.[^ ]+|mailto:.+|data:.+)");
        }
        int hash = target.indexOf('#');
        String path = URLDecoder.decode(hash < 0 ? target : target.substring(0, hash), StandardCharsets.UTF_8);
        Path file = path.isEmpty() ? page : page.resolveSibling(path).normalize();
        if (!file.startsWith(site) || !Files.isRegularFile(file)) {
            return false;
        }
        return hash < 0
                || hash == target.length() - 1
                || anchorsOf(file).contains(URLDecoder.decode(target.substring(hash + 1), StandardCharsets.UTF_8));
    }

    private Set<String> anchorsOf(Path file) throws IOException {
        Set<String> known = anchors.get(file);
        if (known == null) {
            known = parse(file).select("[id]").stream().map(e -> e.attr("id")).collect(Collectors.toSet());
            anchors.put(file, known);
        }
        return known;
    }

    private static Document parse(Path file) throws IOException {
        return Jsoup.parse(file.toFile(), "UTF-8");
    }
}
