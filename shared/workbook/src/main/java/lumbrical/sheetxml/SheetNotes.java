package lumbrical.sheetxml;

import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.function.UnaryOperator;
import org.apache.poi.ooxml.POIXMLDocumentPart;
import org.apache.poi.ss.usermodel.ClientAnchor;
import org.apache.poi.ss.util.CellReference;
import org.apache.poi.xssf.model.CommentsTable;
import org.apache.poi.xssf.usermodel.XSSFComment;
import org.apache.poi.xssf.usermodel.XSSFRichTextString;
import org.apache.poi.xssf.usermodel.XSSFSheet;
import org.apache.poi.xssf.usermodel.XSSFVMLDrawing;

/**
 * The notes of a sheet. The workbook library makes the first, and with it the parts that hold the texts and the shapes of notes (ECMA-376,
 * part 1, 18.7, and part 4, 19); the others are copies of the first in these parts. The library would take as long for each as for a
 * hundred rows.
 */
public final class SheetNotes {
    private static final int COLUMNS = 3;
    private static final int ROWS = 4;

    private static final String TEXTS_END = "</commentList>";
    private static final String SHAPE = "<v:shape id=\"_x0000_s";
    private static final String SHAPE_END = "</v:shape>";
    /** The library numbers shapes from here. */
    private static final int FIRST_SHAPE = 1025;

    private final XSSFSheet sheet;
    private final Map<String, UnaryOperator<String>> completions;
    private final List<Note> copies = new ArrayList<>();
    private boolean begun;

    private record Note(int row, int column, String text) {
        /** The columns and rows between which it is shown, each with an offset. */
        String anchor() {
            return column + ", 0, " + (row + 1) + ", 0, " + (column + COLUMNS) + ", 0, " + (row + 1 + ROWS) + ", 0";
        }
    }

    /** @param completions takes, by the name of a part, what is to be made of the part as the library saves it */
    SheetNotes(XSSFSheet sheet, Map<String, UnaryOperator<String>> completions) {
        this.sheet = sheet;
        this.completions = completions;
    }

    /** Puts a note on a cell that has none. */
    public void add(int row, int column, String text) {
        if (begun) {
            copies.add(new Note(row, column, text));
            return;
        }
        byLibrary(sheet, row, column, text);
        begun = true;
        for (POIXMLDocumentPart part : sheet.getRelations()) {
            if (part instanceof CommentsTable) {
                completions.put(PackedWorkbook.nameOf(part), this::withTexts);
            } else if (part instanceof XSSFVMLDrawing) {
                completions.put(PackedWorkbook.nameOf(part), this::withShapes);
            }
        }
    }

    /** Has the workbook library put a note on a cell of a sheet that has none, or others of the library alone. */
    public static void byLibrary(XSSFSheet sheet, int row, int column, String text) {
        ClientAnchor anchor = sheet.getWorkbook().getCreationHelper().createClientAnchor();
        anchor.setCol1(column);
        anchor.setCol2(column + COLUMNS);
        anchor.setRow1(row + 1);
        anchor.setRow2(row + 1 + ROWS);
        XSSFComment comment = sheet.createDrawingPatriarch().createCellComment(anchor);
        comment.setAddress(row, column); // else where the anchor begins, a row below
        comment.setString(new XSSFRichTextString(text));
    }

    private String withTexts(String part) {
        XmlBytes texts = new XmlBytes();
        for (Note note : copies) {
            texts.ascii("<comment ref=\"")
                    .ascii(CellReference.convertNumToColString(note.column()))
                    .number(note.row() + 1L)
                    .ascii("\" authorId=\"0\"><text>")
                    .element(note.text())
                    .ascii("</text></comment>");
        }
        int end = part.indexOf(TEXTS_END);
        return part.substring(0, end) + texts + part.substring(end);
    }

    private String withShapes(String part) {
        int begin = part.indexOf(SHAPE);
        int end = part.indexOf(SHAPE_END) + SHAPE_END.length();
        String first = part.substring(begin, end);
        StringBuilder shapes = new StringBuilder(part.substring(0, end));
        int number = FIRST_SHAPE;
        for (Note note : copies) {
            number++;
            shapes.append(first.replace(SHAPE + FIRST_SHAPE, SHAPE + number)
                    .replaceFirst("(<x:Anchor>)[^<]*", "$1" + note.anchor())
                    .replaceFirst("(<x:Row>)[^<]*", "$1" + note.row())
                    .replaceFirst("(<x:Column>)[^<]*", "$1" + note.column()));
        }
        return shapes.append(part.substring(end)).toString();
    }
}
