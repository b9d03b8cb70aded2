package lumbrical.cdisc;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.ByteArrayInputStream;
import java.io.ByteArrayOutputStream;
import java.io.IOException;
import java.time.LocalDate;
import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import javax.xml.parsers.DocumentBuilderFactory;
import javax.xml.parsers.ParserConfigurationException;
import org.junit.jupiter.api.Test;
import org.w3c.dom.Document;
import org.w3c.dom.Element;
import org.w3c.dom.NodeList;
import org.xml.sax.SAXException;

/** Records written by hand, and what their description must say of them: lengths, decimals and values are counted by hand. */
class DefineXmlTest {
    private static final List<Variable> VARIABLES = List.of(
            Variable.text("USUBJID", "Unique Subject Identifier", "given").key(1),
            Variable.text("PARAMCD", "Parameter Code", "ours").terms(Terms.usedAs("PARAM")),
            Variable.text("PARAM", "Parameter", "ours").terms(Terms.USED),
            Variable.number("AVAL", "Analysis Value", "counted").derived(),
            Variable.integer("AVALN", "A Whole Number", "DM.AGE").predecessor(),
            Variable.text("ABLFL", "Baseline Record Flag", "Y on one").derived().terms(Terms.YES_ONLY),
            Variable.of("QSDTC", "Date/Time of Finding", Variable.Type.ISO_DATE, "the year")
                    .collected(),
            Variable.of("ADT", "Analysis Date", Variable.Type.DATE, "the date").protocol(),
            Variable.text("COUNTRY", "Country", "not held here").notHeld());

    private static Dataset dataset(Dataset.Form form) {
        return Dataset.of("ADX", "A Dataset", form, VARIABLES, (taker, positions) -> {
            taker.accept(new Dataset.Row(positions)
                    .set("USUBJID", "S-1")
                    .set("PARAMCD", "B")
                    .set("PARAM", "Second <&> " + (char) 1)
                    .set("AVAL", 12.25)
                    .set("AVALN", 7)
                    .set("ABLFL", "Y")
                    .set("QSDTC", "2026")
                    .set("ADT", "2026-01-05"));
            taker.accept(new Dataset.Row(positions)
                    .set("USUBJID", "S-22")
                    .set("PARAMCD", "A")
                    .set("PARAM", "First")
                    .set("AVAL", 3.5));
        });
    }

    private static Document written(String purpose, Map<DatasetFacts, String> files) throws IOException {
        ByteArrayOutputStream out = new ByteArrayOutputStream();
        DefineXml.Described described = new DefineXml.Described(
                "ADaMIG", "1.3", purpose, "HAND", LocalDate.parse("2026-11-25"), "a program 1.0", ".json.gz");
        assertEquals(1, DefineXml.write(described, files, out));
        try {
            return DocumentBuilderFactory.newInstance()
                    .newDocumentBuilder()
                    .parse(new ByteArrayInputStream(out.toByteArray()));
        } catch (ParserConfigurationException | SAXException e) {
            throw new IOException(e);
        }
    }

    private static Element element(Document document, String name, String oid) {
        NodeList found = document.getElementsByTagName(name);
        for (int i = 0; i < found.getLength(); i++) {
            if (((Element) found.item(i)).getAttribute("OID").equals(oid)) {
                return (Element) found.item(i);
            }
        }
        throw new AssertionError("no " + name + " " + oid);
    }

    private static String item(Document document, String variable) {
        Element item = element(document, "ItemDef", "IT.ADX." + variable);
        Element origin = (Element) item.getElementsByTagName("def:Origin").item(0);
        return String.join(
                " ",
                item.getAttribute("DataType"),
                item.getAttribute("Length"),
                item.getAttribute("SignificantDigits"),
                origin.getAttribute("Type"));
    }

    @Test
    void tellsTypesLengthsDecimalsAndOrigins() throws IOException {
        Document define =
                written("Analysis", Map.of(DatasetFacts.of(dataset(Dataset.Form.BASIC_DATA_STRUCTURE)), "adx"));
        assertEquals("text 4  Assigned", item(define, "USUBJID"));
        assertEquals("float 5 2 Derived", item(define, "AVAL")); // 12.25
        assertEquals("integer 1  Predecessor", item(define, "AVALN"));
        assertEquals("partialDate   Collected", item(define, "QSDTC"));
        assertEquals("integer 10  Protocol", item(define, "ADT"));
        assertEquals("text 1  Not Available", item(define, "COUNTRY"));
        assertEquals(
                "counted",
                element(define, "MethodDef", "MT.ADX.AVAL").getTextContent().strip());
        assertEquals(
                "not held here",
                element(define, "def:CommentDef", "COM.ADX.COUNTRY")
                        .getTextContent()
                        .strip());
        Element group = element(define, "ItemGroupDef", "IG.ADX");
        assertEquals("STD.IG", group.getAttribute("def:StandardOID"));
        assertEquals("", group.getAttribute("Domain"));
        assertEquals(
                "adx.json.gz", ((Element) group.getElementsByTagName("def:leaf").item(0)).getAttribute("xlink:href"));
        List<String> empty = new ArrayList<>();
        NodeList refs = group.getElementsByTagName("ItemRef");
        for (int i = 0; i < refs.getLength(); i++) {
            Element ref = (Element) refs.item(i);
            if (ref.getAttribute("def:HasNoData").equals("Yes")) {
                empty.add(ref.getAttribute("ItemOID"));
            }
            assertEquals(i == 0 ? "Yes" : "No", ref.getAttribute("Mandatory"));
        }
        assertEquals(List.of("IT.ADX.COUNTRY"), empty);
    }

    @Test
    void listsTheCodesUsedWithTheirWordsAndWhatXmlDoesNotAllowIsReplaced() throws IOException {
        Document define =
                written("Analysis", Map.of(DatasetFacts.of(dataset(Dataset.Form.BASIC_DATA_STRUCTURE)), "adx"));
        Map<String, String> decodes = new LinkedHashMap<>();
        NodeList items = element(define, "CodeList", "CL.ADX.PARAMCD").getElementsByTagName("CodeListItem");
        for (int i = 0; i < items.getLength(); i++) {
            decodes.put(
                    ((Element) items.item(i)).getAttribute("CodedValue"),
                    items.item(i).getTextContent().strip());
        }
        assertEquals(Map.of("A", "First", "B", "Second <&> \uFFFD"), decodes);
        assertEquals(
                2,
                element(define, "CodeList", "CL.ADX.PARAM")
                        .getElementsByTagName("EnumeratedItem")
                        .getLength());
        assertEquals("STD.CT", element(define, "CodeList", "CL.NY_YONLY").getAttribute("def:StandardOID"));
    }

    @Test
    void aDatasetOfOursIsNotOfTheStandardAndOneWithoutRecordsSaysSo() throws IOException {
        Dataset none = Dataset.of("SUPPQS", "Nothing", Dataset.Form.RELATIONSHIP, VARIABLES, (taker, positions) -> {});
        Map<DatasetFacts, String> files = new LinkedHashMap<>();
        files.put(DatasetFacts.of(dataset(Dataset.Form.OURS)), "withdrawn");
        files.put(DatasetFacts.of(none), "suppqs");
        Document define = written("Tabulation", files);
        Element ours = element(define, "ItemGroupDef", "IG.ADX");
        assertEquals("Yes", ours.getAttribute("def:IsNonStandard"));
        assertEquals(0, ours.getElementsByTagName("def:Class").getLength());
        Element supplement = element(define, "ItemGroupDef", "IG.SUPPQS");
        assertEquals("QS", supplement.getAttribute("Domain"));
        assertEquals("Yes", supplement.getAttribute("def:HasNoData"));
        assertTrue(supplement.getElementsByTagName("def:Class").getLength() == 1);
    }
}
