package lumbrical.command;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.File;
import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import java.util.stream.Collectors;
import java.util.stream.Stream;
import javax.tools.ToolProvider;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

/** The programs of README and docs/library.md compile and run as they stand, on the class path and on the module path. */
class DocumentedProgramsTest {
    private static final Path ROOT = Path.of("..").toAbsolutePath().normalize();

    @TempDir
    private Path folder;

    private static List<String> programs(String document) throws IOException {
        Matcher code =
                Pattern.compile("```java\n(.*?)```", Pattern.DOTALL).matcher(Files.readString(ROOT.resolve(document)));
        List<String> programs = new ArrayList<>();
        while (code.find()) {
            programs.add(code.group(1));
        }
        return programs;
    }

    /** Class folders of modules of this build, and the jars that they need at run time. */
    private static String path(String modules, String jars) {
        Stream<String> folders = Stream.of(modules.split(" "))
                .map(module -> ROOT.resolve(module).resolve("target/classes").toString());
        Stream<String> libraries = Stream.of(
                        System.getProperty("java.class.path").split(File.pathSeparator))
                .filter(entry -> Pattern.compile(jars)
                        .matcher(Path.of(entry).getFileName().toString())
                        .find());
        return Stream.concat(folders, libraries).collect(Collectors.joining(File.pathSeparator));
    }

    private static final String LIBRARY = "scoring-core instruments";
    private static final String LIBRARY_JARS = "^(jackson-core|commons-(statistics|rng|numbers))-";
    private static final String FILES = LIBRARY + " shared/tabular shared/columns shared/intake";
    private static final String FILES_JARS = "^(jackson-core|poi|xmlbeans|log4j|SparseBitSet|curvesapi|commons-)";

    private String run(String program, String how, String path, String... arguments)
            throws IOException, InterruptedException {
        String name = name(program);
        Path sources = Files.createDirectories(folder.resolve(how + name));
        Path classes = Files.createDirectories(sources.resolve("classes"));
        Path source = Files.writeString(sources.resolve(name + ".java"), program);
        List<String> compile = new ArrayList<>(List.of("-d", classes.toString(), "-Xlint:all", "-Werror"));
        List<String> run = new ArrayList<>(
                List.of(Path.of(System.getProperty("java.home"), "bin", "java").toString()));
        if (how.equals("module")) {
            Path module = Files.writeString(
                    sources.resolve("module-info.java"), "module reader { requires lumbrical.instruments; }\n");
            compile.addAll(List.of("--module-path", path, module.toString()));
            run.addAll(List.of("--module-path", classes + File.pathSeparator + path, "--module"));
            // a program of the documents has no package; a module needs one
            source = Files.writeString(source, "package reader;\n" + program);
            run.add("reader/reader." + name);
        } else {
            compile.addAll(List.of("-cp", path));
            run.addAll(List.of("-cp", classes + File.pathSeparator + path, name));
        }
        compile.add(source.toString());
        assertEquals(
                0,
                ToolProvider.getSystemJavaCompiler().run(null, System.out, System.err, compile.toArray(String[]::new)),
                name);
        run.addAll(List.of(arguments));
        Process process = new ProcessBuilder(run).redirectErrorStream(true).start();
        String printed = new String(process.getInputStream().readAllBytes(), StandardCharsets.UTF_8);
        assertEquals(0, process.waitFor(), printed);
        return printed.replace(System.lineSeparator(), "\n");
    }

    private static String name(String program) {
        Matcher name = Pattern.compile("public class (\\w+)").matcher(program);
        assertTrue(name.find(), "one whole public class");
        return name.group(1);
    }

    @ParameterizedTest
    @CsvSource({"class", "module"})
    void theExampleOfTheReadme(String how) throws IOException, InterruptedException {
        String printed = run(programs("README.md").get(0), how, path(LIBRARY, LIBRARY_JARS));
        assertTrue(printed.contains("value=2.0"), printed);
        assertTrue(printed.contains("value=7.0"), printed);
    }

    /** Worked by hand: uram is a sum of nine items, 0 to 5, one of them open (17 x 9 / 8); cts6symptom is a mean of 1 to 5. */
    @ParameterizedTest
    @CsvSource({"class", "module"})
    void threeInstrumentsWithAGap(String how) throws IOException, InterruptedException {
        assertEquals(
                "nprs rest: 2.0 (possible 2.0 to 2.0)\nnprs worst: 7.0 (possible 7.0 to 7.0)\n"
                        + "uram total: 19.125 (possible 17.0 to 22.0)\n"
                        + "cts6symptom total: 2.6666666666666665 (possible 2.6666666666666665 to 2.6666666666666665)\n",
                run(programs("docs/library.md").get(0), how, path(LIBRARY, LIBRARY_JARS)));
    }

    @ParameterizedTest
    @CsvSource({"class", "module"})
    void aChangeIsJudgedWithoutAClinic(String how) throws IOException, InterruptedException {
        String printed = run(programs("docs/library.md").get(1), how, path(LIBRARY, LIBRARY_JARS));
        assertEquals("50.0: important improvement", printed.strip());
    }

    @Test
    void aClinicIsAnalysedByOneCall() throws IOException, InterruptedException {
        String printed = run(
                programs("docs/library.md").get(2),
                "class",
                path(FILES, FILES_JARS),
                ROOT.resolve("shared/demo").toString());
        assertTrue(printed.startsWith("rows read 298 = "), printed);
        assertTrue(printed.lines().count() > 3, printed);
    }
}
