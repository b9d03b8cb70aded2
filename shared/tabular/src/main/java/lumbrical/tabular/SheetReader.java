package lumbrical.tabular;

import java.io.IOException;
import java.io.InputStream;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.regex.Pattern;
import java.util.stream.Stream;
import javax.xml.parsers.ParserConfigurationException;
import javax.xml.parsers.SAXParserFactory;
import javax.xml.stream.XMLInputFactory;
import javax.xml.stream.XMLStreamConstants;
import javax.xml.stream.XMLStreamException;
import javax.xml.stream.XMLStreamReader;
import lumbrical.problem.Remedy;
import org.apache.poi.EncryptedDocumentException;
import org.apache.poi.ooxml.POIXMLException;
import org.apache.poi.openxml4j.exceptions.OpenXML4JException;
import org.apache.poi.openxml4j.exceptions.OpenXML4JRuntimeException;
import org.apache.poi.openxml4j.opc.OPCPackage;
import org.apache.poi.openxml4j.opc.PackageAccess;
import org.apache.poi.openxml4j.opc.PackageRelationshipTypes;
import org.apache.poi.openxml4j.util.ZipSecureFile;
import org.apache.poi.xssf.eventusermodel.XSSFReader;
import org.apache.poi.xssf.model.StylesTable;
import org.xml.sax.InputSource;
import org.xml.sax.SAXException;
import org.xml.sax.XMLReader;
import org.xml.sax.helpers.DefaultHandler;

/** Reads one sheet of an XLSX workbook by events, so that memory does not grow with its rows. */
final class SheetReader {
    private static final Pattern TEXT_DOCUMENT = Pattern.compile("/word/document[0-9]*\\.xml");

    private SheetReader() {}

    static void read(Input input, TableSink sink) throws IOException {
        ZipSecureFile.setMinInflateRatio(1 / Limits.INFLATION);
        ZipSecureFile.setMaxEntrySize(Limits.PART_BYTES);
        try (OPCPackage pack = OPCPackage.open(input.path().toFile(), PackageAccess.READ)) {
            if (isTextDocument(pack)) {
                throw new UnreadableInputException(
                        input.place(),
                        "this is a text document (DOCX), no table. Copy its table into a spreadsheet and save that as XLSX.");
            }
            if (!holdsWorkbook(pack)) {
                throw corrupt(input);
            }
            XSSFReader reader = new XSSFReader(pack);
            SharedTexts texts = SharedTexts.of(pack, Limits.SHARED_TEXT_CHARACTERS);
            StylesTable styles = Optional.ofNullable(reader.getStylesTable()).orElseGet(StylesTable::new);
            boolean from1904 = from1904(reader);
            String name = input.sheet()
                    .map(wanted -> named(input, reader, wanted))
                    .orElseGet(() -> withHeader(input, reader, texts, styles, sink));
            try (CountedInput sheet = sheet(input, reader, name)) {
                parse(sheet, new SheetHandler(input, texts, styles, from1904, sheet, sink));
            }
        } catch (SheetHandler.Stop e) {
            throw e.reason();
        } catch (SheetHandler.SinkFailure e) {
            throw e.failure();
        } catch (SharedTexts.TooMuch e) {
            throw new UnreadableInputException(input.place(), "the workbook holds more text than can be read.");
        } catch (EncryptedDocumentException e) {
            throw new UnreadableInputException(input.place(), "the workbook has a password. Save it without one.");
        } catch (OpenXML4JException
                | OpenXML4JRuntimeException
                | POIXMLException
                | SAXException
                | ParserConfigurationException
                | XMLStreamException
                | IllegalArgumentException
                | IllegalStateException
                | IndexOutOfBoundsException e) {
            throw corrupt(input);
        } catch (IOException e) {
            throw corrupt(input);
        }
    }

    /** Names of the sheets, in order. */
    static List<String> names(Input input) throws IOException {
        try (OPCPackage pack = OPCPackage.open(input.path().toFile(), PackageAccess.READ)) {
            return names(new XSSFReader(pack));
        } catch (OpenXML4JException
                | OpenXML4JRuntimeException
                | POIXMLException
                | IllegalArgumentException
                | IllegalStateException e) {
            throw corrupt(input);
        }
    }

    private static boolean isTextDocument(OPCPackage pack) {
        return !pack.getPartsByName(TEXT_DOCUMENT).isEmpty();
    }

    /** Whether the part that the package names as its workbook is there; the library does not ask. */
    private static boolean holdsWorkbook(OPCPackage pack) {
        return Stream.of(PackageRelationshipTypes.CORE_DOCUMENT, PackageRelationshipTypes.STRICT_CORE_DOCUMENT)
                .map(pack::getRelationshipsByType)
                .filter(named -> !named.isEmpty())
                .findFirst()
                .filter(named -> pack.getPart(named.getRelationship(0)) != null)
                .isPresent();
    }

    private static UnreadableInputException corrupt(Input input) {
        return new UnreadableInputException(
                input.place(),
                "the workbook is damaged, unpacks to too much, or is none. Open it in a spreadsheet and save it again as XLSX.");
    }

    private static XMLReader secureReader() throws ParserConfigurationException, SAXException {
        SAXParserFactory factory = SAXParserFactory.newDefaultInstance();
        factory.setFeature(javax.xml.XMLConstants.FEATURE_SECURE_PROCESSING, true);
        factory.setFeature("http://apache.org/xml/features/disallow-doctype-decl", true);
        XMLReader reader = factory.newSAXParser().getXMLReader();
        reader.setErrorHandler(new DefaultHandler()); // without one, the parser prints what it thinks
        return reader;
    }

    private static void parse(InputStream sheet, DefaultHandler handler)
            throws IOException, ParserConfigurationException, SAXException {
        XMLReader xml = secureReader();
        xml.setContentHandler(handler);
        xml.parse(new InputSource(sheet));
    }

    private static List<String> names(XSSFReader reader) {
        try {
            XSSFReader.SheetIterator sheets = (XSSFReader.SheetIterator) reader.getSheetsData();
            List<String> names = new ArrayList<>();
            while (sheets.hasNext()) {
                sheets.next().close();
                names.add(sheets.getSheetName());
            }
            return names;
        } catch (IOException | OpenXML4JException e) {
            throw new IllegalStateException("No sheets", e); // told as a damaged workbook
        }
    }

    /** The sheet of that name, in any case. */
    private static String named(Input input, XSSFReader reader, String wanted) {
        List<String> names = names(reader);
        return names.stream()
                .filter(wanted::equals)
                .findFirst()
                .or(() -> names.stream().filter(wanted::equalsIgnoreCase).findFirst())
                .orElseThrow(() -> new UnreadableInputException(
                        input.place(),
                        "there is no such sheet. Sheets are " + Cells.printable(String.join(", ", names)) + ".",
                        List.of(Remedy.of(Remedy.Kind.SHEET))));
    }

    /** The first sheet with the header that is looked for, else the first. */
    private static String withHeader(
            Input input, XSSFReader reader, SharedTexts texts, StylesTable styles, TableSink sink) {
        List<String> names = names(reader);
        if (names.isEmpty()) {
            throw new UnreadableInputException(input.place(), "the workbook has no sheet.");
        }
        if (names.size() == 1) {
            return names.get(0);
        }
        for (String name : names) {
            HeaderSearch search = new HeaderSearch(sink);
            try (CountedInput sheet = sheet(input, reader, name)) {
                parse(sheet, new SheetHandler(input, texts, styles, false, sheet, search));
            } catch (HeaderSearch.Ended e) {
                if (e.found()) {
                    if (!name.equals(names.get(0))) {
                        sink.otherSheet(name);
                    }
                    return name;
                }
            } catch (IOException | OpenXML4JException | ParserConfigurationException | SAXException e) {
                throw new IllegalStateException("No sheet", e); // told as a damaged workbook
            }
        }
        sink.noSheetFits(names);
        return names.get(0);
    }

    /** Looks at the first filled rows of a sheet. */
    private static final class HeaderSearch implements TableSink {
        private static final int FILLED_ROWS = 11;
        private final TableSink wanting;
        private int filled;

        /** Ends the parsing of a sheet. */
        private static final class Ended extends RuntimeException {
            private static final long serialVersionUID = 1L;
            private final boolean found;

            Ended(boolean found) {
                super("", null, false, false);
                this.found = found;
            }

            boolean found() {
                return found;
            }
        }

        HeaderSearch(TableSink wanting) {
            this.wanting = wanting;
        }

        @Override
        public void row(int number, List<String> cells) {
            if (cells.stream().allMatch(c -> Cells.clean(c).isEmpty())) {
                return;
            }
            filled++;
            boolean found = wanting.isHeader(cells);
            if (found || filled == FILLED_ROWS) {
                throw new Ended(found);
            }
        }
    }

    private static CountedInput sheet(Input input, XSSFReader reader, String name)
            throws IOException, OpenXML4JException {
        XSSFReader.SheetIterator sheets = (XSSFReader.SheetIterator) reader.getSheetsData();
        while (sheets.hasNext()) {
            InputStream sheet = sheets.next();
            if (name.equals(sheets.getSheetName())) {
                return new CountedInput(sheet, sheets.getSheetPart().getSize(), 0);
            }
            sheet.close();
        }
        throw new UnreadableInputException(input.place(), "the workbook has no sheet " + Cells.printable(name) + ".");
    }

    private static boolean from1904(XSSFReader reader) throws IOException, OpenXML4JException, XMLStreamException {
        XMLInputFactory factory = XMLInputFactory.newDefaultFactory();
        factory.setProperty(XMLInputFactory.SUPPORT_DTD, false);
        try (InputStream workbook = reader.getWorkbookData()) {
            XMLStreamReader xml = factory.createXMLStreamReader(workbook);
            while (xml.hasNext()) {
                if (xml.next() == XMLStreamConstants.START_ELEMENT
                        && xml.getLocalName().equals("workbookPr")) {
                    String flag = Optional.ofNullable(xml.getAttributeValue(null, "date1904"))
                            .orElse("0");
                    return flag.equals("1") || flag.equals("true");
                }
            }
            return false;
        }
    }
}
