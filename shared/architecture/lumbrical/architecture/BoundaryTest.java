package lumbrical.architecture;

import static com.tngtech.archunit.lang.syntax.ArchRuleDefinition.classes;
import static com.tngtech.archunit.lang.syntax.ArchRuleDefinition.noClasses;
import static com.tngtech.archunit.library.dependencies.SlicesRuleDefinition.slices;
import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import com.tngtech.archunit.core.domain.JavaClass;
import com.tngtech.archunit.core.domain.JavaClasses;
import com.tngtech.archunit.core.importer.ClassFileImporter;
import java.io.IOException;
import java.io.InputStream;
import java.io.UncheckedIOException;
import java.nio.file.Path;
import java.util.List;
import java.util.Properties;
import java.util.Set;
import java.util.TreeSet;
import java.util.stream.Collectors;
import java.util.stream.Stream;
import org.junit.jupiter.api.Test;

/**
 * Guards the boundary of the module in whose build it runs, as DEVELOPERS.md draws it. What a module may know stands in its {@code
 * architecture.properties}: {@code packages} it has, {@code knows} beside {@code java..}, and how many {@code classes} must be seen,
 * since an empty scan would pass every rule.
 */
class BoundaryTest {
    private static final Properties RULES = rules();
    private static final JavaClasses CLASSES = new ClassFileImporter().importPath(Path.of("target", "classes"));

    private static Properties rules() {
        Properties rules = new Properties();
        try (InputStream in = BoundaryTest.class.getClassLoader().getResourceAsStream("architecture.properties")) {
            rules.load(in);
        } catch (IOException e) {
            throw new UncheckedIOException(e);
        }
        return rules;
    }

    private static List<String> list(String key) {
        return Stream.of(RULES.getProperty(key).split("[, ]+"))
                .filter(word -> !word.isEmpty())
                .toList();
    }

    @Test
    void seesTheClasses() {
        int least = Integer.parseInt(RULES.getProperty("classes"));
        long seen = CLASSES.stream().filter(JavaClass::isTopLevelClass).count();
        assertTrue(seen >= least, "only " + seen + " classes were seen, not " + least);
    }

    @Test
    void hasThePackagesItSays() {
        Set<String> packages = CLASSES.stream()
                .map(JavaClass::getPackageName)
                .filter(name -> !name.isEmpty())
                .collect(Collectors.toCollection(TreeSet::new));
        assertEquals(new TreeSet<>(list("packages")), packages);
    }

    @Test
    void knowsNothingElse() {
        String[] known = Stream.of(list("packages").stream(), list("knows").stream(), Stream.of("java..", "org.jspecify.."))
                .flatMap(s -> s)
                .toArray(String[]::new);
        classes().should().onlyDependOnClassesThat().resideInAnyPackage(known).check(CLASSES);
    }

    @Test
    void hasNoCycles() {
        slices().matching("lumbrical.(*)..").should().beFreeOfCycles().check(CLASSES);
    }

    @Test
    void leavesStandardStreamsAlone() {
        noClasses()
                .should()
                .accessField(System.class, "out")
                .orShould()
                .accessField(System.class, "err")
                .because("only the console that a command is given prints")
                .check(CLASSES);
    }
}
