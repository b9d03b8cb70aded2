package lumbrical.statistics;

import static com.tngtech.archunit.lang.syntax.ArchRuleDefinition.noClasses;
import static org.junit.jupiter.api.Assertions.assertTrue;

import com.tngtech.archunit.core.domain.JavaClasses;
import com.tngtech.archunit.core.importer.ClassFileImporter;
import java.nio.file.Path;
import org.junit.jupiter.api.Test;

class StatisticsBoundaryTest {
    @Test
    void onlyStatisticsUsesLibraries() {
        JavaClasses classes = new ClassFileImporter().importPath(Path.of("target", "classes"));
        assertTrue(classes.size() >= 80, "only " + classes.size() + " classes were seen");
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
