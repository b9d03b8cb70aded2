package lumbrical.workbook;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertSame;
import static org.junit.jupiter.api.Assertions.assertThrows;

import java.io.IOException;
import java.nio.file.Path;
import org.apache.poi.openxml4j.exceptions.OpenXML4JRuntimeException;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

class PoiTempFilesTest {
    @TempDir
    private Path folder;

    @Test
    void aFullDiskIsToldAsOneHoweverTheLibraryWrapsIt() {
        IOException full = new IOException("No space left on device");
        for (RuntimeException wrapped : new RuntimeException[] {
            new IllegalStateException(full), new OpenXML4JRuntimeException("not saved", new IllegalStateException(full))
        }) {
            assertSame(
                    full,
                    assertThrows(
                            IOException.class,
                            () -> PoiTempFiles.in(folder, () -> {
                                throw wrapped;
                            })));
        }
    }

    @Test
    void aMistakeOfOursStaysOne() {
        IllegalStateException ours = new IllegalStateException("More courses than a sheet has rows");
        assertEquals(
                ours,
                assertThrows(
                        IllegalStateException.class,
                        () -> PoiTempFiles.in(folder, () -> {
                            throw ours;
                        })));
    }
}
