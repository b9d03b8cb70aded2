package org.handoutcomes.scoring;

import static com.tngtech.archunit.lang.syntax.ArchRuleDefinition.noClasses;
import static com.tngtech.archunit.library.dependencies.SlicesRuleDefinition.slices;
import static org.junit.jupiter.api.Assertions.assertTrue;

import com.tngtech.archunit.core.domain.JavaClasses;
import com.tngtech.archunit.core.importer.ImportOption;
import com.tngtech.archunit.junit.AnalyzeClasses;
import com.tngtech.archunit.junit.ArchTest;
import com.tngtech.archunit.lang.ArchRule;

/** Guards the layout that DEVELOPERS.md describes. */
@AnalyzeClasses(packages = "org.handoutcomes", importOptions = ImportOption.DoNotIncludeTests.class)
class ArchitectureTest {
    /** An empty scan would pass every rule. */
    @ArchTest
    static void seesTheClasses(JavaClasses classes) {
        assertTrue(classes.size() >= 50, "only " + classes.size() + " classes were seen");
    }

    @ArchTest
    static final ArchRule NO_CYCLES =
            slices().matching("org.handoutcomes.(*)..").should().beFreeOfCycles();

    @ArchTest
    static final ArchRule NO_STANDARD_STREAMS = noClasses()
            .should()
            .accessField(System.class, "out")
            .orShould()
            .accessField(System.class, "err")
            .because("only the console that a command is given prints");

    @ArchTest
    static final ArchRule PURE = noClasses()
            .should()
            .dependOnClassesThat()
            .resideInAnyPackage("java.io..", "java.nio..", "java.net..", "java.sql..")
            .because("scores must be repeatable: no file, no network");

    @ArchTest
    static final ArchRule NO_CLOCK = noClasses()
            .should()
            .callMethod(java.time.LocalDate.class, "now")
            .orShould()
            .callMethod(java.time.LocalDateTime.class, "now")
            .orShould()
            .callMethod(System.class, "currentTimeMillis")
            .because("the clock is read in one place, for --as-of");
}
