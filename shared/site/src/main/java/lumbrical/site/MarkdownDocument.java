package lumbrical.site;

import java.util.List;
import java.util.Locale;
import java.util.Map;
import org.commonmark.Extension;
import org.commonmark.ext.gfm.tables.TableBlock;
import org.commonmark.ext.gfm.tables.TablesExtension;
import org.commonmark.node.AbstractVisitor;
import org.commonmark.node.Code;
import org.commonmark.node.Heading;
import org.commonmark.node.HtmlBlock;
import org.commonmark.node.Image;
import org.commonmark.node.Link;
import org.commonmark.node.Node;
import org.commonmark.node.SoftLineBreak;
import org.commonmark.node.Text;
import org.commonmark.parser.Parser;
import org.commonmark.renderer.html.HtmlRenderer;

/**
 * A document as HTML. Links to documents become links to their pages, and so does the name of a document in code type.
 *
 * @param title its first heading
 * @param html what it says
 */
record MarkdownDocument(String title, String html) {
    private static final List<Extension> EXTENSIONS = List.of(TablesExtension.create());
    private static final Parser PARSER = Parser.builder().extensions(EXTENSIONS).build();
    private static final HtmlRenderer RENDERER = HtmlRenderer.builder()
            .extensions(EXTENSIONS)
            .attributeProviderFactory(context -> MarkdownDocument::anchor)
            .build();

    /**
     * Renders a document.
     *
     * @param name its path in the project
     */
    static MarkdownDocument of(String markdown, String name, SiteLinks links) {
        Node document = PARSER.parse(markdown);
        document.accept(new Relink(name, links));
        Titles titles = new Titles();
        document.accept(titles);
        return new MarkdownDocument(titles.first.isEmpty() ? name : titles.first, RENDERER.render(document));
    }

    /** A heading can be linked to by its words, as readers of such documents expect. */
    private static void anchor(Node node, String tag, Map<String, String> attributes) {
        if (node instanceof Heading) {
            attributes.put(
                    "id",
                    words(node)
                            .toLowerCase(Locale.ROOT)
                            .replaceAll("[^\\p{L}\\p{N} -]", "")
                            .replace(' ', '-'));
        }
        if (node instanceof TableBlock && tag.equals("table")) {
            attributes.put("class", "document");
        }
    }

    private static String words(Node node) {
        StringBuilder text = new StringBuilder();
        node.accept(new AbstractVisitor() {
            @Override
            public void visit(Text words) {
                text.append(words.getLiteral());
            }

            @Override
            public void visit(Code code) {
                text.append(code.getLiteral());
            }

            @Override
            public void visit(SoftLineBreak line) {
                text.append(' ');
            }
        });
        return text.toString();
    }

    private static final class Titles extends AbstractVisitor {
        private String first = "";

        @Override
        public void visit(Heading heading) {
            if (first.isEmpty()) {
                first = words(heading);
            }
        }
    }

    private static final class Relink extends AbstractVisitor {
        private final String document;
        private final SiteLinks links;

        private Relink(String document, SiteLinks links) {
            this.document = document;
            this.links = links;
        }

        @Override
        public void visit(Link link) {
            link.setDestination(moved(link.getDestination()));
        }

        @Override
        public void visit(Image image) {
            image.setDestination(moved(image.getDestination()));
        }

        @Override
        public void visit(HtmlBlock block) {
            throw new IllegalArgumentException(document + " holds HTML of its own; pages are made of plain documents");
        }

        @Override
        public void visit(Code code) {
            links.from(document, code.getLiteral()).ifPresent(page -> {
                Link link = new Link(page, null);
                code.insertBefore(link);
                link.appendChild(code);
            });
        }

        private String moved(String destination) {
            if (destination.contains(":")) {
                return destination;
            }
            int hash = destination.indexOf('#');
            String path = hash < 0 ? destination : destination.substring(0, hash);
            String rest = hash < 0 ? "" : destination.substring(hash);
            return path.isEmpty() ? destination : links.from(document, path).orElse(path) + rest;
        }
    }
}
