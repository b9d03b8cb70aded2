package lumbrical.catalogue;

import java.io.IOException;
import java.io.InputStream;
import java.io.UncheckedIOException;

/** The files packed beside these classes. */
final class Resources {
    private Resources() {}

    /** @throws UncheckedIOException if there is no such file, which is a fault of the build */
    static byte[] bytes(String name) {
        try (InputStream in = Resources.class.getResourceAsStream(name)) {
            if (in == null) {
                throw new IOException("The library lacks its resource " + name);
            }
            return in.readAllBytes();
        } catch (IOException e) {
            throw new UncheckedIOException(e);
        }
    }
}
