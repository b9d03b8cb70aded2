package lumbrical.workbook;

import java.io.IOException;
import java.io.OutputStream;
import java.io.UncheckedIOException;
import java.util.List;
import org.apache.poi.ss.util.SheetUtil;
import org.apache.poi.xssf.usermodel.XSSFSheet;
import org.apache.poi.xssf.usermodel.XSSFWorkbook;

/** A small workbook made for nobody, after which the workbook library has its schemas, its fonts and what charts need. */
final class LibraryStart {
    private LibraryStart() {}

    static void run() {
        try (XSSFWorkbook book = new XSSFWorkbook()) {
            new Styles(book);
            XSSFSheet sheet = book.createSheet();
            new ScatterCharts(sheet.createDrawingPatriarch())
                    .add(
                            new ScatterCharts.Frame("", 0, 0, 1, 1),
                            ScatterCharts.Axis.free(""),
                            ScatterCharts.Axis.free(""),
                            List.of());
            SheetUtil.getDefaultCharWidthAsFloat(book);
            book.write(OutputStream.nullOutputStream());
        } catch (IOException e) {
            throw new UncheckedIOException(e); // there is no disk in it
        }
    }
}
