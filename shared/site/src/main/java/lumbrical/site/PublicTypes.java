package lumbrical.site;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import java.util.stream.Stream;

/** The public types of a library, in the packages that its module exports. */
final class PublicTypes {
    private static final Pattern EXPORTS = Pattern.compile("(?m)^\\s*exports ([a-z.]+);");
    private static final Pattern MODULE = Pattern.compile("(?m)^(?:open )?module ([a-z.]+)");
    private static final Pattern TYPE = Pattern.compile(
            "(?m)^public (?:(?:abstract|final|sealed|non-sealed) )*(?:class|interface|record|enum|@interface) (\\w+)");

    private PublicTypes() {}

    /** The pages of Javadoc that they have, sorted. */
    static List<String> of(Path sources) throws IOException {
        List<String> types = new ArrayList<>();
        String module = Files.readString(sources.resolve("module-info.java"));
        Matcher name = MODULE.matcher(module);
        String folder = name.find() ? name.group(1) + "/" : "";
        Matcher exports = EXPORTS.matcher(module);
        while (exports.find()) {
            String exported = exports.group(1).replace('.', '/');
            try (Stream<Path> files = Files.list(sources.resolve(exported))) {
                for (Path file :
                        files.filter(f -> f.toString().endsWith(".java")).toList()) {
                    Matcher type = TYPE.matcher(Files.readString(file));
                    if (type.find()) {
                        types.add(folder + exported + "/" + type.group(1) + ".html");
                    }
                }
            }
        }
        return types.stream().sorted().toList();
    }
}
