package lumbrical.command;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import org.junit.jupiter.api.Test;

/** The launcher of a checkout and the one of the packages stand for themselves, and decide alike about the virtual machine. */
class LauncherTest {
    private static final Path ROOT = Path.of("..").toAbsolutePath().normalize();

    private static String decision(String launcher) throws IOException {
        String text = Files.readString(ROOT.resolve(launcher));
        int begin = text.indexOf("# The one decision about the virtual machine");
        assertTrue(begin > 0, launcher);
        return text.substring(begin);
    }

    @Test
    void bothLaunchersDecideAlike() throws IOException {
        assertEquals(decision("lumbrical"), decision("shared/packages/src/launcher/lumbrical"));
    }
}
