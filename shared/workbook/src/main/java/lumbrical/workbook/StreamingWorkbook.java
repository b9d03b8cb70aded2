package lumbrical.workbook;

import java.io.IOException;
import java.io.OutputStream;
import java.nio.file.Path;
import java.time.LocalDate;
import java.time.ZoneOffset;
import java.util.ArrayList;
import java.util.Date;
import java.util.List;
import java.util.Optional;
import java.util.Set;
import lumbrical.sheetxml.InOrder;
import lumbrical.sheetxml.PackedWorkbook;
import lumbrical.sheetxml.SheetNotes;
import lumbrical.sheetxml.SheetRows;
import org.apache.poi.ooxml.POIXMLProperties;
import org.apache.poi.ss.SpreadsheetVersion;
import org.apache.poi.ss.usermodel.PageMargin;
import org.apache.poi.ss.usermodel.PrintSetup;
import org.apache.poi.ss.usermodel.Sheet;
import org.apache.poi.ss.util.CellRangeAddress;
import org.apache.poi.xssf.streaming.SXSSFSheet;
import org.apache.poi.xssf.streaming.SXSSFWorkbook;
import org.apache.poi.xssf.streaming.SheetDataWriter;
import org.apache.poi.xssf.usermodel.XSSFSheet;
import org.apache.poi.xssf.usermodel.XSSFWorkbook;

/**
 * A workbook written by streaming: only a window of rows is ever in memory. The same content gives the same bytes: dates inside
 * come from the as-of date. Tables and pages are written by {@link lumbrical.sheetxml}, all else by the workbook library.
 */
final class StreamingWorkbook {
    private static final int WINDOW = 100;
    /** In inches, as the format has it. */
    private static final double SIDE_MARGIN = 0.4;

    private static final double FOOT_MARGIN = 0.75;

    private final WithFilledDownFormulas book;
    private final PackedWorkbook packed;
    private final Styles styles;
    private final LocalDate asOf;
    private final List<SmallSheet> small = new ArrayList<>();

    private StreamingWorkbook(LocalDate asOf, PackedWorkbook packed) {
        XSSFWorkbook template = new XSSFWorkbook();
        this.packed = packed;
        this.book = new WithFilledDownFormulas(template, packed);
        this.styles = new Styles(template);
        this.asOf = asOf;
    }

    /** The workbook of sheets that the library streams. */
    private static final class WithFilledDownFormulas extends SXSSFWorkbook {
        private final PackedWorkbook packed;

        WithFilledDownFormulas(XSSFWorkbook template, PackedWorkbook packed) {
            super(template, WINDOW, false, false);
            this.packed = packed;
        }

        /** For the sheet made last, as the library calls it. */
        @Override
        protected SheetDataWriter createSheetDataWriter() throws IOException {
            XSSFWorkbook template = getXSSFWorkbook();
            return new FilledDownFormulas(packed.part(template.getSheetAt(template.getNumberOfSheets() - 1)));
        }

        /** Lets go of what the library holds, which would save it once more; rows have no temporary files of its own. */
        @Override
        public void close() {
            getXSSFWorkbook().getPackage().revert();
        }

        void writePacked(OutputStream out) throws IOException {
            flushSheets();
            for (int i = 0; i < getNumberOfSheets(); i++) {
                if (getSheetAt(i) != null) {
                    getSheetAt(i).flushBufferedData();
                }
            }
            packed.write(getXSSFWorkbook(), out);
        }
    }

    /**
     * A sheet of many rows.
     *
     * @param sheet all but its rows
     * @param rows the rows
     */
    record LongSheet(XSSFSheet sheet, SheetRows rows) {
        /** Has the file say how far the rows reach, once all are written. */
        void end() {
            sheet.setDimensionOverride(
                    new CellRangeAddress(0, Math.max(0, rows.rows() - 1), 0, Math.max(0, rows.columns() - 1)));
        }
    }

    /** Fills a workbook. */
    interface Content {
        /** @throws IOException if a temporary file cannot be written */
        void fill(StreamingWorkbook book) throws IOException;
    }

    /**
     * Writes a workbook to {@code out}.
     *
     * @param scratch a folder for temporary files, which the caller removes
     */
    static void write(LocalDate asOf, Path scratch, OutputStream out, Content content) throws IOException {
        LibraryStart.await();
        PoiTempFiles.in(scratch, () -> {
            try (PackedWorkbook packed = new PackedWorkbook(scratch)) {
                StreamingWorkbook book = new StreamingWorkbook(asOf, packed);
                try (book.book) {
                    content.fill(book);
                    book.small.forEach(SmallSheet::end);
                    book.stamp();
                    book.book.writePacked(out);
                }
            }
        });
    }

    Styles styles() {
        return styles;
    }

    XSSFWorkbook inMemory() {
        return book.getXSSFWorkbook();
    }

    /** A sheet of many rows as the library streams them, which has formulas filled down. */
    SXSSFSheet sheet(String name) {
        SXSSFSheet sheet = book.createSheet(name);
        setUp(sheet);
        return sheet;
    }

    /** A sheet of many rows, which are written one after the other and cannot be changed again. */
    LongSheet longSheet(String name) {
        XSSFSheet sheet = inMemory().createSheet(name);
        setUp(sheet);
        return new LongSheet(sheet, packed.rowsOf(sheet));
    }

    /** A sheet of few rows, whose cells are set in any order. */
    SmallSheet smallSheet(String name) {
        SmallSheet sheet = new SmallSheet(longSheet(name), styles);
        small.add(sheet);
        return sheet;
    }

    /** The notes of a sheet that has none yet. */
    SheetNotes notes(String sheet) {
        return packed.notesOf(inMemory().getSheet(sheet));
    }

    /** Work on rows that a second thread does ahead; its results are taken in the order in which the work is given. */
    <T> InOrder<T> inOrder(InOrder.Taker<T> taker) {
        return packed.inOrder(taker);
    }

    /** Has a sheet printed on so many pages below one another as it needs. */
    static void setUp(Sheet sheet) {
        PrintSetup print = sheet.getPrintSetup();
        print.setPaperSize(PrintSetup.A4_PAPERSIZE);
        print.setLandscape(true);
        print.setFitWidth((short) 1);
        print.setFitHeight((short) 0);
        sheet.setMargin(PageMargin.LEFT, SIDE_MARGIN);
        sheet.setMargin(PageMargin.RIGHT, SIDE_MARGIN);
        sheet.setMargin(PageMargin.TOP, SIDE_MARGIN);
        sheet.setMargin(PageMargin.BOTTOM, FOOT_MARGIN);
        sheet.setMargin(PageMargin.FOOTER, SIDE_MARGIN);
        sheet.setFitToPage(true);
        sheet.setAutobreaks(true);
        sheet.getFooter().setLeft("&A");
        sheet.getFooter().setRight("&P / &N");
    }

    /** Freezes and repeats the rows down to {@code row}, and the first {@code columns} columns. */
    static void freeze(Sheet sheet, int columns, int row) {
        sheet.createFreezePane(columns, row + 1);
        sheet.setRepeatingRows(new CellRangeAddress(row, row, -1, -1));
    }

    /** Prints a sheet down to {@code lastRow} only: one that is prepared for many rows would give empty pages. */
    void printRows(SXSSFSheet sheet, int lastColumn, int lastRow) {
        book.setPrintArea(book.getSheetIndex(sheet), 0, lastColumn, 0, lastRow);
    }

    /** Prints the first columns and rows of a table only, so that they stand in a size that can be read. */
    void printColumns(String name, int lastColumn, int lastRow) {
        book.setPrintArea(book.getSheetIndex(name), 0, lastColumn, 0, Math.max(1, lastRow));
    }

    /** Locks the cells of a sheet but those whose style says otherwise; without a password, against slips alone. */
    void lock(Sheet sheet) {
        XSSFSheet whole = inMemory().getSheet(sheet.getSheetName());
        whole.enableLocking();
        whole.lockFormatColumns(false);
        whole.lockFormatRows(false);
        whole.lockObjects(true);
    }

    /** Locks a sheet and takes it out of sight. */
    void hide(Sheet sheet) {
        lock(sheet);
        book.setSheetHidden(book.getSheetIndex(sheet), true);
    }

    /** Puts a sheet behind all others so far. */
    void putLast(String name) {
        book.setSheetOrder(name, book.getNumberOfSheets() - 1);
    }

    /** Has no sheet printed but these: a print area that is an empty cell gives no page. */
    void printNone(Set<String> but) {
        for (int i = 0; i < book.getNumberOfSheets(); i++) {
            if (!but.contains(book.getSheetName(i))) {
                int column = SpreadsheetVersion.EXCEL2007.getLastColumnIndex();
                book.setPrintArea(i, column, column, 0, 0);
                inMemory().getSheetAt(i).setRepeatingRows(null);
            }
        }
    }

    /** Has the program that opens the book compute its formulas. */
    void recalculateOnOpening() {
        inMemory().setForceFormulaRecalculation(true);
    }

    private void stamp() {
        Date day = Date.from(asOf.atStartOfDay(ZoneOffset.UTC).toInstant());
        POIXMLProperties.CoreProperties core = inMemory().getProperties().getCoreProperties();
        core.setCreator("Lumbrical");
        core.setCreated(Optional.of(day));
        core.setModified(Optional.of(day));
        inMemory()
                .getProperties()
                .getExtendedProperties()
                .getUnderlyingProperties()
                .setApplication("Lumbrical");
    }
}
