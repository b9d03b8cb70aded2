package lumbrical.report.html;

import java.io.IOException;
import java.io.InputStream;
import java.io.UncheckedIOException;
import java.nio.charset.StandardCharsets;
import java.util.List;
import java.util.stream.Collectors;

/**
 * The parts of a page that are the program's own.
 *
 * @param policy the content security policy: nothing but this style sheet and this script is used, and nothing is loaded
 * @param style the style sheet
 * @param script the script
 */
public record PageParts(String policy, String style, String script) {
    /**
     * The parts that lie beside a class.
     *
     * @param styles names of the style sheets, the later ones add to the earlier
     * @param script name of the script
     * @throws IllegalStateException if the program lacks one
     */
    public static PageParts of(List<String> styles, String script) {
        String style = styles.stream().map(PageParts::resource).collect(Collectors.joining());
        String code = resource(script);
        return new PageParts(ContentPolicy.of(style, code), style, code);
    }

    private static String resource(String name) {
        try (InputStream in = PageParts.class.getResourceAsStream(name)) {
            if (in == null) {
                throw new IllegalStateException("The program lacks its own " + name);
            }
            return new String(in.readAllBytes(), StandardCharsets.UTF_8);
        } catch (IOException e) {
            throw new UncheckedIOException(e);
        }
    }
}
