package lumbrical.workbook;

import java.io.File;
import java.io.IOException;
import java.io.UncheckedIOException;
import java.nio.file.Files;
import java.nio.file.Path;
import org.apache.poi.ooxml.POIXMLException;
import org.apache.poi.openxml4j.exceptions.OpenXML4JRuntimeException;
import org.apache.poi.util.DefaultTempFileCreationStrategy;
import org.apache.poi.util.TempFile;
import org.apache.poi.util.TempFileCreationStrategy;

/**
 * Where the workbook library puts temporary files: while one of our workbooks is written, in a folder of ours, so that a killed
 * run's can be found and removed; for everybody else in this process, where it always does. The library has one place for all
 * threads to say so.
 */
final class PoiTempFiles implements TempFileCreationStrategy {
    private static final PoiTempFiles INSTANCE = new PoiTempFiles();

    private final ThreadLocal<Path> folder = new ThreadLocal<>();
    private final TempFileCreationStrategy others = new DefaultTempFileCreationStrategy();

    private PoiTempFiles() {}

    /** Work that needs temporary files. */
    @FunctionalInterface
    interface Work {
        /** @throws IOException if a file cannot be written */
        void run() throws IOException;
    }

    /**
     * Runs {@code work} with its temporary files in {@code folder}.
     *
     * @throws IOException if a file cannot be written, also where the library wraps that in a failure of its own
     */
    static void in(Path folder, Work work) throws IOException {
        TempFile.setTempFileCreationStrategy(INSTANCE);
        INSTANCE.folder.set(folder);
        try {
            work.run();
        } catch (IllegalStateException | UncheckedIOException | POIXMLException | OpenXML4JRuntimeException wrapped) {
            for (Throwable cause = wrapped.getCause(); cause != null; cause = cause.getCause()) {
                if (cause instanceof IOException disk) {
                    throw disk;
                }
            }
            throw wrapped;
        } finally {
            INSTANCE.folder.remove();
        }
    }

    @Override
    public File createTempFile(String prefix, String suffix) throws IOException {
        Path own = folder.get();
        return own == null
                ? others.createTempFile(prefix, suffix)
                : Files.createTempFile(own, prefix, suffix).toFile();
    }

    @Override
    public File createTempDirectory(String prefix) throws IOException {
        Path own = folder.get();
        return own == null
                ? others.createTempDirectory(prefix)
                : Files.createTempDirectory(own, prefix).toFile();
    }
}
