package lumbrical.command;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.ByteArrayOutputStream;
import java.io.IOException;
import java.io.PrintStream;
import java.net.URL;
import java.net.URLClassLoader;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import javax.tools.JavaCompiler;
import javax.tools.ToolProvider;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/** The example of the README compiles and runs. */
class ReadmeTest {
    @Test
    void theEmbeddingExampleCompilesAndScores(@TempDir Path folder) throws IOException, ReflectiveOperationException {
        String readme = Files.readString(Path.of("..", "README.md"));
        Matcher code = Pattern.compile("```java\n(.*?)```", Pattern.DOTALL).matcher(readme);
        assertTrue(code.find(), "the README has no Java example");
        Path source = folder.resolve("Embedding.java");
        Files.writeString(source, code.group(1));
        JavaCompiler compiler = ToolProvider.getSystemJavaCompiler();
        String path = System.getProperty("jdk.module.path", "")
                + java.io.File.pathSeparator
                + System.getProperty("java.class.path");
        assertEquals(
                0, compiler.run(null, System.out, System.err, "-cp", path, "-d", folder.toString(), source.toString()));
        PrintStream before = System.out;
        ByteArrayOutputStream printed = new ByteArrayOutputStream();
        try (URLClassLoader loader =
                new URLClassLoader(new URL[] {folder.toUri().toURL()})) {
            System.setOut(new PrintStream(printed, true, StandardCharsets.UTF_8));
            loader.loadClass("Embedding").getMethod("main", String[].class).invoke(null, (Object) new String[0]);
        } finally {
            System.setOut(before);
        }
        assertTrue(
                printed.toString(StandardCharsets.UTF_8).contains("value=2.0"),
                printed.toString(StandardCharsets.UTF_8));
    }
}
