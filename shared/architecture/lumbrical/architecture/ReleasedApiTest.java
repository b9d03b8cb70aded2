package lumbrical.architecture;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;

import com.tngtech.archunit.core.domain.JavaClass;
import com.tngtech.archunit.core.domain.JavaCodeUnit;
import com.tngtech.archunit.core.domain.JavaField;
import com.tngtech.archunit.core.domain.JavaMember;
import com.tngtech.archunit.core.domain.JavaModifier;
import com.tngtech.archunit.core.importer.ClassFileImporter;
import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.Set;
import java.util.TreeSet;
import java.util.stream.Collectors;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.condition.EnabledIf;

/**
 * What a user of the last release compiled against is still there: every line of {@code shared/api/MODULE.txt}. A change that takes one
 * away needs a new main version; {@code -Dapi.write} writes the file anew for a release.
 */
class ReleasedApiTest {
    private static final Path RELEASED = file();

    private static Path file() {
        Path module = Path.of("").toAbsolutePath();
        Path root = module;
        while (!Files.isDirectory(root.resolve("shared/api")) && root.getParent() != null) {
            root = root.getParent();
        }
        return root.resolve("shared/api").resolve(module.getFileName() + ".txt");
    }

    static boolean hasReleasedApi() {
        return Files.exists(RELEASED) || Boolean.getBoolean("api.write");
    }

    @Test
    @EnabledIf("hasReleasedApi")
    void nothingOfTheLastReleaseIsGone() throws IOException {
        Set<String> now = api();
        if (Boolean.getBoolean("api.write")) {
            Files.write(RELEASED, now);
        }
        List<String> released = Files.readAllLines(RELEASED);
        assertFalse(released.isEmpty(), "an empty file would hold nothing");
        List<String> gone = new ArrayList<>(released);
        gone.removeAll(now);
        assertEquals(List.of(), gone, "gone or changed since the last release");
    }

    private static Set<String> api() {
        Set<String> lines = new TreeSet<>();
        for (JavaClass type : new ClassFileImporter().importPath(Path.of("target", "classes"))) {
            if (isPublic(type)) {
                lines.add("type " + type.getName());
                type.getMembers().stream()
                        .filter(ReleasedApiTest::isPublic)
                        .map(ReleasedApiTest::line)
                        .forEach(lines::add);
            }
        }
        return lines;
    }

    private static boolean isPublic(JavaClass type) {
        return type.getModifiers().contains(JavaModifier.PUBLIC)
                && type.getEnclosingClass().map(ReleasedApiTest::isPublic).orElse(true);
    }

    private static boolean isPublic(JavaMember member) {
        return member.getModifiers().contains(JavaModifier.PUBLIC)
                && !member.getModifiers().contains(JavaModifier.SYNTHETIC);
    }

    private static String line(JavaMember member) {
        String name = member.getOwner().getName() + "." + member.getName();
        if (member instanceof JavaCodeUnit unit) {
            return unit.getRawReturnType().getName() + " " + name
                    + unit.getRawParameterTypes().stream()
                            .map(JavaClass::getName)
                            .collect(Collectors.joining(", ", "(", ")"));
        }
        return ((JavaField) member).getRawType().getName() + " " + name;
    }
}
