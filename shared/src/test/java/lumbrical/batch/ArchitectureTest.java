package lumbrical.batch;

import static com.tngtech.archunit.lang.syntax.ArchRuleDefinition.noClasses;
import static com.tngtech.archunit.library.dependencies.SlicesRuleDefinition.slices;
import static org.junit.jupiter.api.Assertions.assertTrue;

import com.tngtech.archunit.core.domain.JavaClasses;
import com.tngtech.archunit.core.importer.ImportOption;
import com.tngtech.archunit.junit.AnalyzeClasses;
import com.tngtech.archunit.junit.ArchTest;
import lumbrical.followup.Episode;
import lumbrical.followup.Longitudinal;
import lumbrical.followup.PlacedForm;

/** Guards the layout that DEVELOPERS.md describes. */
@AnalyzeClasses(
        packages = {
            "lumbrical.table",
            "lumbrical.output",
            "lumbrical.workbook",
            "lumbrical.batch",
            "lumbrical.vector",
            "lumbrical.reconcile",
            "lumbrical.deidentify",
            "lumbrical.exchange",
            "lumbrical.fhir",
            "lumbrical.cdisc"
        },
        importOptions = ImportOption.DoNotIncludeTests.class)
class ArchitectureTest {
    /** An empty scan would pass every rule. */
    @ArchTest
    static void seesTheClasses(JavaClasses classes) {
        assertTrue(classes.size() >= 150, "only " + classes.size() + " classes were seen");
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
    static void writersOfRegistryFilesSeeOnlyWhatMayLeave(JavaClasses classes) {
        noClasses()
                .that()
                .resideInAnyPackage("lumbrical.fhir..", "lumbrical.cdisc..")
                .or()
                .haveSimpleNameStartingWith("Csv")
                .and()
                .resideInAPackage("lumbrical.exchange..")
                .should()
                .dependOnClassesThat()
                .resideInAPackage("lumbrical.sitting..")
                .orShould()
                .dependOnClassesThat()
                .belongToAnyOf(Episode.class, Longitudinal.class, PlacedForm.class)
                .because("what a writer never sees it cannot leak")
                .check(classes);
    }

    @ArchTest
    static void poiOnlyWhereSheetsAre(JavaClasses classes) {
        noClasses()
                .that()
                .resideOutsideOfPackages("lumbrical.workbook..", "lumbrical.table..")
                .should()
                .dependOnClassesThat()
                .resideInAPackage("org.apache.poi..")
                .because("everything else works on our own values")
                .check(classes);
    }
}
