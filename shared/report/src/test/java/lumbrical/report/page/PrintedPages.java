package lumbrical.report.page;

import java.io.IOException;
import java.util.ArrayList;
import java.util.List;
import org.apache.pdfbox.Loader;
import org.apache.pdfbox.pdmodel.PDDocument;
import org.apache.pdfbox.pdmodel.PDPage;
import org.apache.pdfbox.text.PDFTextStripper;
import org.apache.pdfbox.text.TextPosition;

/**
 * What a printed page holds.
 *
 * @param texts the text of each sheet
 * @param smallestType the smallest type of a visible letter, in points
 * @param a4 whether every sheet is A4
 */
public record PrintedPages(List<String> texts, double smallestType, boolean a4) {
    /** Reads a PDF file. */
    public static PrintedPages of(byte[] pdf) throws IOException {
        try (PDDocument document = Loader.loadPDF(pdf)) {
            Sizes sizes = new Sizes();
            List<String> texts = new ArrayList<>();
            boolean a4 = true;
            for (int i = 1; i <= document.getNumberOfPages(); i++) {
                sizes.setStartPage(i);
                sizes.setEndPage(i);
                texts.add(sizes.getText(document));
                PDPage page = document.getPage(i - 1);
                a4 &= Math.abs(page.getMediaBox().getWidth() - 595) < 2
                        && Math.abs(page.getMediaBox().getHeight() - 842) < 2;
            }
            return new PrintedPages(texts, sizes.smallest, a4);
        }
    }

    private static final class Sizes extends PDFTextStripper {
        private double smallest = Double.MAX_VALUE;

        @Override
        protected void processTextPosition(TextPosition text) {
            if (!text.getUnicode().isBlank()) {
                smallest = Math.min(smallest, Math.abs(text.getYScale()));
            }
            super.processTextPosition(text);
        }
    }

    public int count() {
        return texts.size();
    }

    public String text() {
        return String.join("\n", texts);
    }

    /** The text of one sheet, the first is 1. */
    public String text(int sheet) {
        return texts.get(sheet - 1);
    }
}
