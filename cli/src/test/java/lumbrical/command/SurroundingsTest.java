package lumbrical.command;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import com.tngtech.archunit.core.domain.JavaClass;
import com.tngtech.archunit.core.domain.JavaClasses;
import com.tngtech.archunit.core.importer.ClassFileImporter;
import com.tngtech.archunit.core.importer.ImportOption;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.Set;
import java.util.TreeSet;
import java.util.function.Predicate;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;

/** Same input, options and as-of date give the same bytes, on any machine and any day: all modules, seen from the last one. */
class SurroundingsTest {
    private static final JavaClasses PROGRAM = new ClassFileImporter()
            .withImportOption(new ImportOption.DoNotIncludeTests())
            .importPackages("lumbrical");

    /** What the program may ask, and where. Only the as-of date reaches a result, and it is written there. */
    private static final Set<String> ALLOWED = Set.of(
            // the day, where --as-of does not name it
            "lumbrical.command.ReadingOptions.day takes java.time.Clock.systemDefaultZone",
            "lumbrical.command.ReadingOptions.day takes java.time.LocalDate.now",
            // how long a run takes, for a line of progress
            "lumbrical.command.Progress.<init> takes java.lang.System.nanoTime",
            // where it goes, for --timings
            "lumbrical.command.Timings.<init> takes java.lang.System.nanoTime",
            "lumbrical.command.Timings.done takes java.lang.System.nanoTime",
            // what an installation says of itself in its validation record
            "lumbrical.command.VerifyCommand.installation takes java.lang.System.getProperty",
            "lumbrical.command.VerifyCommand.programFiles takes java.lang.System.getProperty",
            // where the installation lies, how many threads to use, and a library told to be silent
            "lumbrical.command.Main.home takes java.lang.System.getProperty",
            "lumbrical.command.Main.main takes java.lang.System.setProperty",
            "lumbrical.command.ScoreCommand.threads takes java.lang.Integer.getInteger",
            // the secret by which dates are shifted, kept in a key file: nobody may be able to guess it
            "lumbrical.deidentify.KeyFile.<init> takes java.security.SecureRandom.<init>",
            "lumbrical.deidentify.KeyFile.<init> takes java.security.SecureRandom.nextBytes",
            "lumbrical.deidentify.KeyFile.fresh takes java.security.SecureRandom.nextBytes",
            "lumbrical.deidentify.KeyFileLock.isStill takes java.util.UUID.randomUUID");

    @ParameterizedTest
    @ValueSource(
            strings = {
                "lumbrical.scoring",
                "lumbrical.followup",
                "lumbrical.catalogue",
                "lumbrical.tabular",
                "lumbrical.intake",
                "lumbrical.fastpath",
                "lumbrical.registry",
                "lumbrical.workbook",
                "lumbrical.command"
            })
    void seesEveryModule(String packageName) {
        long seen = PROGRAM.stream()
                .filter(c -> c.getPackageName().equals(packageName))
                .count();
        assertTrue(seen >= 8, seen + " classes of " + packageName);
    }

    @Test
    void nothingReadsClockLocaleCharsetZoneChanceOrEnvironmentButWhereItIsNamed() {
        Set<String> taken = new TreeSet<>();
        for (JavaClass type : PROGRAM) {
            type.getAccessesFromSelf().stream()
                    .filter(access -> Surroundings.takenBy(access).isPresent())
                    .map(Surroundings::inWords)
                    .forEach(taken::add);
        }
        assertEquals(new TreeSet<>(ALLOWED), taken);
    }

    /** Every closed way is tried by a class of the tests and found, so that none is closed in vain. */
    @Test
    void everyClosedWayIsFoundWhereItIsTaken() {
        JavaClass sample = new ClassFileImporter().importClass(ReadsItsSurroundings.class);
        List<Surroundings.Way> found = sample.getAccessesFromSelf().stream()
                .map(Surroundings::takenBy)
                .flatMap(Optional::stream)
                .toList();
        List<Surroundings.Way> missed = new ArrayList<>(Surroundings.CLOSED);
        missed.removeIf(found::contains);
        assertEquals(List.of(), missed);
        List<String> harmless = sample.getAccessesFromSelf().stream()
                .filter(access -> access.getOrigin().getName().equals("harmless"))
                .filter(access -> Surroundings.takenBy(access).isPresent())
                .map(Surroundings::inWords)
                .toList();
        assertEquals(List.of(), harmless);
        assertTrue(sample.getAccessesFromSelf().stream()
                .map(access -> access.getOrigin().getName())
                .anyMatch(Predicate.isEqual("harmless")));
    }
}
