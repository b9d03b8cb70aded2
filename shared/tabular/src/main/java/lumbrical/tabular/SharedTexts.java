package lumbrical.tabular;

import java.io.IOException;
import java.io.InputStream;
import java.util.List;
import java.util.Optional;
import org.apache.poi.openxml4j.opc.OPCPackage;
import org.apache.poi.openxml4j.opc.PackagePart;
import org.apache.poi.xssf.eventusermodel.ReadOnlySharedStringsTable;
import org.apache.poi.xssf.usermodel.XSSFRelation;
import org.xml.sax.SAXException;

/**
 * The texts that the cells of a workbook share (ECMA-376 part 1, 18.4.9). How many there are is counted here: the file need not say it,
 * and a hostile one says something else.
 */
final class SharedTexts extends ReadOnlySharedStringsTable {
    private final long limit;
    private long characters;

    /** Too many characters. */
    static final class TooMuch extends SAXException {
        private static final long serialVersionUID = 1L;
    }

    /**
     * No texts yet.
     *
     * @param limit how many characters they may have in all
     */
    SharedTexts(long limit) throws IOException, SAXException {
        super(InputStream.nullInputStream(), false);
        this.limit = limit;
    }

    /** Those of a workbook. */
    static SharedTexts of(OPCPackage pack, long limit) throws IOException, SAXException {
        SharedTexts texts = new SharedTexts(limit);
        List<PackagePart> parts = pack.getPartsByContentType(XSSFRelation.SHARED_STRINGS.getContentType());
        if (!parts.isEmpty()) {
            try (InputStream in = parts.get(0).getInputStream()) {
                texts.readFrom(in);
            }
        }
        return texts;
    }

    /** The text with that number, from 0; empty if there is none. */
    Optional<String> text(int number) {
        try {
            return Optional.of(getItemAt(number).getString());
        } catch (IllegalStateException | IndexOutOfBoundsException e) {
            return Optional.empty();
        }
    }

    @Override
    public void characters(char[] text, int start, int length) throws SAXException {
        characters += length;
        if (characters > limit) {
            throw new TooMuch();
        }
        super.characters(text, start, length);
    }
}
