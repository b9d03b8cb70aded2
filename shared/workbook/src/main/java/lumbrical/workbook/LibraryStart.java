package lumbrical.workbook;

import java.io.IOException;
import java.io.OutputStream;
import java.io.UncheckedIOException;
import java.util.List;
import java.util.Optional;
import lumbrical.sheetxml.SheetNotes;
import org.apache.poi.xssf.usermodel.XSSFSheet;
import org.apache.poi.xssf.usermodel.XSSFWorkbook;

/** A small workbook made for nobody, after which the workbook library has its schemas and what charts need. */
final class LibraryStart {
    private static volatile Optional<Thread> under = Optional.empty();

    private LibraryStart() {}

    /** Makes it on a thread of its own. */
    static void begin() {
        Thread thread = new Thread(LibraryStart::make, "workbook library");
        thread.setDaemon(true);
        // What fails here is met again where it is needed.
        thread.setUncaughtExceptionHandler((failed, e) -> {});
        under = Optional.of(thread);
        thread.start();
    }

    /** Waits for it, if it was begun: two threads that set up the same classes could wait for each other for ever. */
    static void await() {
        under.ifPresent(thread -> {
            try {
                thread.join();
            } catch (InterruptedException e) {
                Thread.currentThread().interrupt();
            }
        });
    }

    private static void make() {
        try {
            XSSFWorkbook book = new XSSFWorkbook();
            new Styles(book);
            XSSFSheet sheet = book.createSheet();
            StreamingWorkbook.setUp(sheet);
            SheetNotes.byLibrary(sheet, 0, 0, "");
            new ScatterCharts(sheet.createDrawingPatriarch())
                    .add(
                            new ScatterCharts.Frame("", 0, 0, 1, 1),
                            ScatterCharts.Axis.free(""),
                            ScatterCharts.Axis.free(""),
                            List.of());
            book.write(OutputStream.nullOutputStream());
            book.getPackage().revert(); // closing would save it once more
        } catch (IOException e) {
            throw new UncheckedIOException(e); // there is no disk in it
        }
    }
}
