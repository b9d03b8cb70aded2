package lumbrical.scoring;

import static com.tngtech.archunit.lang.syntax.ArchRuleDefinition.noClasses;
import static com.tngtech.archunit.library.dependencies.SlicesRuleDefinition.slices;
import static org.junit.jupiter.api.Assertions.assertTrue;

import com.tngtech.archunit.core.domain.JavaClasses;
import com.tngtech.archunit.core.importer.ImportOption;
import com.tngtech.archunit.junit.AnalyzeClasses;
import com.tngtech.archunit.junit.ArchTest;

/** Guards the layout that DEVELOPERS.md describes. */
@AnalyzeClasses(packages = "lumbrical", importOptions = ImportOption.DoNotIncludeTests.class)
class ArchitectureTest {
    /** An empty scan would pass every rule. */
    @ArchTest
    static void seesTheClasses(JavaClasses classes) {
        assertTrue(classes.size() >= 50, "only " + classes.size() + " classes were seen");
    }

    @ArchTest
    static void noCycles(JavaClasses classes) {
        slices().matching("lumbrical.(*)..").should().beFreeOfCycles().check(classes);
    }

    @ArchTest
    static void noStandardStreams(JavaClasses classes) {
        noClasses()
                .should()
                .accessField(System.class, "out")
                .orShould()
                .accessField(System.class, "err")
                .because("only the console that a command is given prints")
                .check(classes);
    }

    @ArchTest
    static void pure(JavaClasses classes) {
        noClasses()
                .should()
                .dependOnClassesThat()
                .resideInAnyPackage("java.io..", "java.nio..", "java.net..", "java.sql..")
                .because("scores must be repeatable: no file, no network")
                .check(classes);
    }

    @ArchTest
    static void librariesOnlyForStatistics(JavaClasses classes) {
        noClasses()
                .that()
                .resideOutsideOfPackage("lumbrical.statistics")
                .should()
                .dependOnClassesThat()
                .resideInAPackage("org.apache.commons..")
                .because("scoring needs none")
                .check(classes);
    }
}
