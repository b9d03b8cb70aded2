package lumbrical.deidentify;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;

/**
 * Where a path really leads, also of a file that is not there yet: links are followed, and {@code ..} is taken after them.
 */
public final class RealPlace {
    private static final int MOST_LINKS = 40;

    private RealPlace() {}

    /** The path without links; what does not exist is taken as named. */
    static Path of(Path path) throws IOException {
        return of(path.toAbsolutePath(), MOST_LINKS);
    }

    private static Path of(Path path, int links) throws IOException {
        if (Files.exists(path)) {
            return path.toRealPath();
        }
        Path parent = path.getParent();
        if (parent == null || path.getFileName() == null) {
            return path;
        }
        if (Files.isSymbolicLink(path)) {
            if (links == 0) {
                throw new IOException("links lead in a circle");
            }
            return of(of(parent, links - 1).resolve(Files.readSymbolicLink(path)), links - 1);
        }
        return of(parent, links).resolve(path.getFileName()).normalize();
    }

    /**
     * Whether a file, there or not, lies in a folder or is it, whatever links its name goes through.
     *
     * @throws IOException if links lead in a circle or a folder on the way cannot be read
     */
    public static boolean isWithin(Path file, Path folder) throws IOException {
        return lies(of(file), of(folder));
    }

    /** Whether {@code file} lies in {@code folder} or is it, by whatever name; both as {@link #of} gives them. */
    static boolean lies(Path file, Path folder) throws IOException {
        if (file.startsWith(folder)) {
            return true;
        }
        if (!Files.exists(folder)) {
            return false;
        }
        for (Path above = file; above != null; above = above.getParent()) {
            if (Files.exists(above) && Files.isSameFile(above, folder)) {
                return true;
            }
        }
        return false;
    }
}
