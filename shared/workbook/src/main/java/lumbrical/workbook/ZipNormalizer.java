package lumbrical.workbook;

import java.io.IOException;
import java.io.InputStream;
import java.io.OutputStream;
import java.nio.file.Path;
import java.time.LocalDateTime;
import java.util.Collections;
import org.apache.commons.compress.archivers.zip.ZipArchiveEntry;
import org.apache.commons.compress.archivers.zip.ZipArchiveOutputStream;
import org.apache.commons.compress.archivers.zip.ZipFile;

/**
 * Packs a streamed workbook again in the plainest form: sizes before the data, no extensions, one fixed time for every part.
 * As streamed it would hold either the time of the run or a form that some programs refuse to unpack.
 */
final class ZipNormalizer {
    /** Any fixed time will do; the format begins in 1980. */
    private static final LocalDateTime TIME = LocalDateTime.of(1980, 2, 1, 0, 0);

    private ZipNormalizer() {}

    /** Copies the parts, compressed as they are, in their order. */
    static void copy(Path from, OutputStream to) throws IOException {
        ZipArchiveOutputStream out = new ZipArchiveOutputStream(to);
        try (ZipFile packed = ZipFile.builder().setPath(from).get()) {
            for (ZipArchiveEntry part : Collections.list(packed.getEntriesInPhysicalOrder())) {
                ZipArchiveEntry plain = new ZipArchiveEntry(part.getName());
                plain.setMethod(part.getMethod());
                plain.setSize(part.getSize());
                plain.setCompressedSize(part.getCompressedSize());
                plain.setCrc(part.getCrc());
                plain.setTimeLocal(TIME);
                try (InputStream content = packed.getRawInputStream(part)) {
                    out.addRawArchiveEntry(plain, content);
                }
            }
        }
        out.finish();
        out.flush();
    }
}
