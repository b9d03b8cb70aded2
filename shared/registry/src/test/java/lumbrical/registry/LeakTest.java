package lumbrical.registry;

import static com.tngtech.archunit.lang.syntax.ArchRuleDefinition.noClasses;

import com.tngtech.archunit.core.domain.JavaClasses;
import com.tngtech.archunit.core.importer.ClassFileImporter;
import java.nio.file.Path;
import lumbrical.followup.AssignedForm;
import lumbrical.followup.Episode;
import lumbrical.followup.FollowUpResult;
import org.junit.jupiter.api.Test;

class LeakTest {
    private static final JavaClasses CLASSES = new ClassFileImporter().importPath(Path.of("target", "classes"));

    @Test
    void writersOfRegistryFilesSeeOnlyWhatMayLeave() {
        noClasses()
                .that()
                .resideInAnyPackage("lumbrical.fhir..", "lumbrical.cdisc..")
                .or()
                .haveSimpleNameStartingWith("Csv")
                .and()
                .resideInAPackage("lumbrical.registry..")
                .should()
                .dependOnClassesThat()
                .resideInAPackage("lumbrical.sitting..")
                .orShould()
                .dependOnClassesThat()
                .belongToAnyOf(Episode.class, FollowUpResult.class, AssignedForm.class)
                .because("what a writer never sees it cannot leak")
                .check(CLASSES);
    }
}
