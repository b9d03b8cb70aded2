package lumbrical.manual;

import java.io.File;
import java.io.IOException;
import java.io.OutputStream;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import java.util.stream.Stream;
import java.util.zip.GZIPOutputStream;
import lumbrical.command.Main;
import org.asciidoctor.Asciidoctor;
import org.asciidoctor.Attributes;
import org.asciidoctor.Options;
import org.asciidoctor.SafeMode;
import picocli.AutoComplete;
import picocli.CommandLine;
import picocli.codegen.docgen.manpage.ManPageGenerator;

/**
 * Writes a manual page for the program and for each command, and the completion for bash. The command library describes the commands as
 * AsciiDoc, Asciidoctor turns that into the language of manual pages.
 */
public final class ManualPages {
    private ManualPages() {}

    /**
     * Writes {@code man/*.1.gz} and {@code completion/lumbrical} into a folder.
     *
     * @param args the folder, the version, and the day that the pages bear (its first ten characters)
     * @throws IOException if they cannot be written
     */
    public static void main(String[] args) throws IOException {
        Path folder = Path.of(args[0]);
        CommandLine program = Main.described();
        Path sources = Files.createDirectories(folder.resolve("source"));
        ManPageGenerator.generateManPage(
                sources.toFile(), folder.resolve("unused").toFile(), new boolean[0], true, program.getCommandSpec());
        Path pages = Files.createDirectories(folder.resolve("man"));
        Path made = Files.createDirectories(folder.resolve("made"));
        try (Asciidoctor asciidoctor = Asciidoctor.Factory.create()) {
            for (Path source : adoc(sources)) {
                asciidoctor.convertFile(source.toFile(), options(made.toFile(), args[1], args[2].substring(0, 10)));
            }
        }
        for (Path page : list(made, ".1")) {
            // No time of packing in it, so that two builds give the same bytes.
            try (OutputStream out = new GZIPOutputStream(Files.newOutputStream(pages.resolve(page.getFileName() + ".gz")))) {
                Files.copy(page, out);
            }
        }
        Path completion = Files.createDirectories(folder.resolve("completion"));
        Files.writeString(
                completion.resolve("lumbrical"), AutoComplete.bash("lumbrical", program), StandardCharsets.UTF_8);
    }

    private static Options options(File to, String version, String day) {
        return Options.builder()
                .backend("manpage")
                .toDir(to)
                .safe(SafeMode.UNSAFE)
                .attributes(Attributes.builder()
                        .attribute("mansource", "Lumbrical " + version)
                        .attribute("manmanual", "Lumbrical")
                        .attribute("docdate", day)
                        .attribute("revdate", day)
                        .attribute("reproducible", "")
                        .build())
                .build();
    }

    private static List<Path> adoc(Path folder) throws IOException {
        return list(folder, ".adoc");
    }

    private static List<Path> list(Path folder, String ending) throws IOException {
        try (Stream<Path> files = Files.list(folder)) {
            return files.filter(f -> f.toString().endsWith(ending)).sorted().toList();
        }
    }
}
