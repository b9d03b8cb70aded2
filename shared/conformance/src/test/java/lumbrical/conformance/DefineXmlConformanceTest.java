package lumbrical.conformance;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.ObjectMapper;
import java.io.ByteArrayInputStream;
import java.io.IOException;
import java.net.URL;
import java.nio.charset.StandardCharsets;
import java.util.ArrayList;
import java.util.HashMap;
import java.util.HashSet;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Set;
import java.util.TreeSet;
import javax.xml.XMLConstants;
import javax.xml.parsers.DocumentBuilderFactory;
import javax.xml.parsers.ParserConfigurationException;
import javax.xml.transform.stream.StreamSource;
import javax.xml.validation.Schema;
import javax.xml.validation.SchemaFactory;
import javax.xml.validation.Validator;
import lumbrical.cdisc.CdiscFiles;
import lumbrical.deidentify.DeidentifiedDataset;
import lumbrical.deidentify.Profile;
import lumbrical.deidentify.SentRecords;
import org.junit.jupiter.api.BeforeAll;
import org.junit.jupiter.api.Test;
import org.w3c.dom.Document;
import org.w3c.dom.Element;
import org.w3c.dom.NodeList;
import org.xml.sax.SAXException;
import org.xml.sax.SAXParseException;
import org.xml.sax.helpers.DefaultHandler;

/** define.xml held against the schema of Define-XML 2.1, and against the datasets that it describes. */
class DefineXmlConformanceTest {
    private static final ObjectMapper JSON = new ObjectMapper();
    private static final List<Map<String, String>> SETS = List.of(
            Map.of("DM", "dm", "SUPPDM", "suppdm", "QS", "qs", "SUPPQS", "suppqs"),
            Map.of("ADSL", "adsl", "ADHAND", "adhand"));

    /** What each data type of Define-XML is in Dataset-JSON 1.1. */
    private static final Map<String, Set<String>> TYPES = Map.of(
            "text", Set.of("string"),
            "integer", Set.of("integer", "date"),
            "float", Set.of("double"),
            "date", Set.of("string"),
            "partialDate", Set.of("string"),
            "durationDatetime", Set.of("string"));

    private static Schema schema;

    /** By profile, the files of sdtm and of adam. */
    private static final Map<String, List<Clinics.Files>> SENT = new LinkedHashMap<>();

    @BeforeAll
    static void write() throws SAXException {
        URL file = DefineXmlConformanceTest.class.getResource("/cdisc/define/cdisc-define-2.1/define2-1-0.xsd");
        schema = SchemaFactory.newInstance(XMLConstants.W3C_XML_SCHEMA_NS_URI).newSchema(file);
        for (Profile.Dates dates : Profile.Dates.values()) {
            List<Profile.AllowedColumn> columns = new ArrayList<>(Profile.DEFAULT.columns());
            if (dates != Profile.Dates.WEEKS_FROM_INDEX) {
                columns.removeIf(c -> c.name().equals("age_band"));
                columns.add(new Profile.AllowedColumn("age", List.of()));
            }
            DeidentifiedDataset demo = Clinics.demo(new Profile(dates.code(), "1", "HAND", dates, 5, columns));
            SENT.put(dates.code(), List.of(new Clinics.Files(), new Clinics.Files()));
            CdiscFiles.CdiscSettings settings = new CdiscFiles.CdiscSettings("lumbrical 0.2.0", true, "");
            SentRecords none = SentRecords.NONE;
            CdiscFiles.writeSdtm(demo, none, settings, SENT.get(dates.code()).get(0));
            CdiscFiles.writeAdam(demo, none, settings, SENT.get(dates.code()).get(1));
        }
    }

    private static List<String> errors(byte[] xml) throws IOException {
        List<String> errors = new ArrayList<>();
        Validator validator = schema.newValidator();
        validator.setErrorHandler(new DefaultHandler() {
            @Override
            public void error(SAXParseException e) {
                errors.add(e.getLineNumber() + ": " + e.getMessage());
            }
        });
        try {
            validator.validate(new StreamSource(new ByteArrayInputStream(xml)));
        } catch (SAXException e) {
            errors.add(e.getMessage());
        }
        return errors;
    }

    @Test
    void followsTheSchemaOfTheStandard() throws IOException {
        int seen = 0;
        for (List<Clinics.Files> sent : SENT.values()) {
            for (Clinics.Files files : sent) {
                assertEquals(List.of(), errors(files.content().get("data/define.xml")));
                seen++;
            }
        }
        assertEquals(6, seen);
    }

    @Test
    void theSchemaWouldSeeABadFile() throws IOException {
        String good = SENT.get("shifted").get(0).text("data/define.xml");
        for (String[] spoilt : new String[][] {
            {"Type=\"Derived\"", "Type=\"Guessed\""},
            {"DataType=\"float\"", "DataType=\"number\""},
            {"<def:Class Name=\"FINDINGS\"", "<def:Class Name=\"ANSWERS\""},
            {" def:Structure=\"One record per subject\"", ""},
        }) {
            assertTrue(good.contains(spoilt[0]), spoilt[0]);
            byte[] bad = good.replace(spoilt[0], spoilt[1]).getBytes(StandardCharsets.UTF_8);
            assertFalse(errors(bad).isEmpty(), spoilt[1]);
        }
    }

    private static Document parsed(Clinics.Files files) throws IOException {
        try {
            DocumentBuilderFactory factory = DocumentBuilderFactory.newInstance();
            factory.setNamespaceAware(false);
            return factory.newDocumentBuilder()
                    .parse(new ByteArrayInputStream(files.content().get("data/define.xml")));
        } catch (ParserConfigurationException | SAXException e) {
            throw new IOException(e);
        }
    }

    private static List<Element> elements(NodeList nodes) {
        List<Element> elements = new ArrayList<>();
        for (int i = 0; i < nodes.getLength(); i++) {
            elements.add((Element) nodes.item(i));
        }
        return elements;
    }

    private static Map<String, Element> byOid(Document document, String name) {
        Map<String, Element> elements = new HashMap<>();
        for (Element element : elements(document.getElementsByTagName(name))) {
            assertTrue(elements.put(element.getAttribute("OID"), element) == null, "an OID stands once");
        }
        return elements;
    }

    @Test
    void describesEveryDatasetAndVariableAsItIs() throws IOException {
        int variables = 0;
        int empty = 0;
        for (List<Clinics.Files> sent : SENT.values()) {
            for (int i = 0; i < 2; i++) {
                Document define = parsed(sent.get(i));
                Map<String, Element> items = byOid(define, "ItemDef");
                Map<String, Element> methods = byOid(define, "MethodDef");
                Map<String, Element> comments = byOid(define, "def:CommentDef");
                Set<String> used = new HashSet<>();
                Set<String> names = new HashSet<>();
                for (Element group : elements(define.getElementsByTagName("ItemGroupDef"))) {
                    String name = group.getAttribute("Name");
                    names.add(name);
                    Element leaf =
                            (Element) group.getElementsByTagName("def:leaf").item(0);
                    assertEquals(SETS.get(i).get(name) + ".json", leaf.getAttribute("xlink:href"));
                    assertEquals(group.getAttribute("def:ArchiveLocationID"), leaf.getAttribute("ID"));
                    JsonNode dataset =
                            JSON.readTree(sent.get(i).content().get("data/" + leaf.getAttribute("xlink:href")));
                    assertEquals(
                            dataset.get("records").asInt() == 0,
                            group.getAttribute("def:HasNoData").equals("Yes"));
                    List<Element> refs = elements(group.getElementsByTagName("ItemRef"));
                    assertEquals(dataset.get("columns").size(), refs.size(), name);
                    for (int v = 0; v < refs.size(); v++) {
                        JsonNode column = dataset.get("columns").get(v);
                        Element item = items.get(refs.get(v).getAttribute("ItemOID"));
                        used.add(item.getAttribute("OID"));
                        empty += check(dataset, v, column, refs.get(v), item) ? 1 : 0;
                        boolean derived = origin(item).getAttribute("Type").equals("Derived");
                        assertEquals(
                                derived, methods.containsKey(refs.get(v).getAttribute("MethodOID")), item.toString());
                        assertEquals(
                                derived || origin(item).getAttribute("Type").equals("Predecessor"),
                                !comments.containsKey(item.getAttribute("def:CommentOID")));
                        variables++;
                    }
                }
                assertEquals(SETS.get(i).keySet(), names);
                assertEquals(items.keySet(), used, "no variable that no dataset has");
            }
        }
        assertTrue(variables > 300 && empty > 30, variables + " " + empty);
    }

    private static Element origin(Element item) {
        return (Element) item.getElementsByTagName("def:Origin").item(0);
    }

    /** @return whether no record has a value */
    private static boolean check(JsonNode dataset, int at, JsonNode column, Element ref, Element item) {
        String where = dataset.get("name").asText() + "." + column.get("name").asText();
        assertEquals(column.get("name").asText(), item.getAttribute("Name"));
        assertEquals(column.get("itemOID").asText(), item.getAttribute("OID"));
        assertEquals(
                column.get("label").asText(),
                item.getElementsByTagName("TranslatedText").item(0).getTextContent());
        String type = item.getAttribute("DataType");
        assertTrue(TYPES.get(type).contains(column.get("dataType").asText()), where + " " + type);
        assertEquals(
                column.has("keySequence") ? column.get("keySequence").asText() : "", ref.getAttribute("KeySequence"));
        int longest = 0;
        int decimals = 0;
        for (JsonNode row : dataset.get("rows")) {
            JsonNode cell = row.get(at);
            if (cell.isNull()) {
                assertEquals("No", ref.getAttribute("Mandatory"), where);
                continue;
            }
            String text = cell.isTextual()
                    ? cell.asText()
                    : cell.decimalValue().stripTrailingZeros().toPlainString();
            longest = Math.max(longest, text.length());
            decimals = Math.max(decimals, text.indexOf('.') < 0 ? 0 : text.length() - text.indexOf('.') - 1);
            assertTrue(!type.equals("integer") || cell.isIntegralNumber() || item.hasAttribute("def:DisplayFormat"));
            assertTrue(!type.equals("date") || text.matches("\\d{4}-\\d{2}-\\d{2}"), text);
            assertTrue(!type.equals("partialDate") || text.matches("\\d{4}"), text);
            assertTrue(!type.equals("durationDatetime") || text.matches("-P\\d+D"), text);
        }
        assertEquals(longest == 0, ref.getAttribute("def:HasNoData").equals("Yes"), where);
        if (item.hasAttribute("Length")) {
            assertEquals(Math.max(1, longest), Integer.parseInt(item.getAttribute("Length")), where);
        }
        if (item.hasAttribute("SignificantDigits")) {
            assertEquals(decimals, Integer.parseInt(item.getAttribute("SignificantDigits")), where);
        }
        if (origin(item).getAttribute("Type").equals("Not Available")) {
            assertEquals(0, longest, where);
        }
        return longest == 0;
    }

    @Test
    void codeListsHoldTheValuesOfTheData() throws IOException {
        int checked = 0;
        for (List<Clinics.Files> sent : SENT.values()) {
            for (int i = 0; i < 2; i++) {
                Document define = parsed(sent.get(i));
                Map<String, Element> lists = byOid(define, "CodeList");
                Set<String> used = new HashSet<>();
                for (Map.Entry<String, String> set : SETS.get(i).entrySet()) {
                    JsonNode dataset = JSON.readTree(sent.get(i).content().get("data/" + set.getValue() + ".json"));
                    for (int v = 0; v < dataset.get("columns").size(); v++) {
                        Element item = byOid(define, "ItemDef")
                                .get(dataset.get("columns")
                                        .get(v)
                                        .get("itemOID")
                                        .asText());
                        NodeList refs = item.getElementsByTagName("CodeListRef");
                        if (refs.getLength() == 0) {
                            continue;
                        }
                        Element list = lists.get(((Element) refs.item(0)).getAttribute("CodeListOID"));
                        used.add(list.getAttribute("OID"));
                        Set<String> values = new TreeSet<>();
                        for (JsonNode row : dataset.get("rows")) {
                            if (!row.get(v).isNull()) {
                                values.add(row.get(v).asText());
                            }
                        }
                        Set<String> coded = new TreeSet<>();
                        elements(list.getElementsByTagName("CodeListItem"))
                                .forEach(e -> coded.add(e.getAttribute("CodedValue")));
                        elements(list.getElementsByTagName("EnumeratedItem"))
                                .forEach(e -> coded.add(e.getAttribute("CodedValue")));
                        if (list.hasAttribute("def:IsNonStandard")) {
                            assertEquals(values, coded, list.getAttribute("OID"));
                        } else {
                            assertTrue(coded.containsAll(values), list.getAttribute("OID"));
                            assertEquals("STD.CT", list.getAttribute("def:StandardOID"));
                        }
                        checked++;
                    }
                }
                assertEquals(lists.keySet(), used, "no code list that no variable has");
            }
        }
        assertTrue(checked > 60, checked + " code lists");
    }

    @Test
    void testsAndParametersAreDecodedByTheirNames() throws IOException {
        for (List<Clinics.Files> sent : SENT.values()) {
            decoded(sent.get(0), "qs", "CL.QS.QSTESTCD", "QSTESTCD", "QSTEST");
            decoded(sent.get(1), "adhand", "CL.ADHAND.PARAMCD", "PARAMCD", "PARAM");
        }
    }

    private static void decoded(Clinics.Files files, String dataset, String list, String code, String words)
            throws IOException {
        Map<String, String> decodes = new HashMap<>();
        elements(byOid(parsed(files), "CodeList").get(list).getElementsByTagName("CodeListItem"))
                .forEach(e -> decodes.put(
                        e.getAttribute("CodedValue"), e.getTextContent().strip()));
        for (Map<String, JsonNode> record : DatasetJsonConformanceTest.records(files, dataset)) {
            assertEquals(
                    record.get(words).asText(), decodes.get(record.get(code).asText()));
        }
    }

    @Test
    void subjectsAreTheSameInEveryDataset() throws IOException {
        for (List<Clinics.Files> sent : SENT.values()) {
            Map<String, Map<String, JsonNode>> dm = new HashMap<>();
            for (Map<String, JsonNode> record : DatasetJsonConformanceTest.records(sent.get(0), "dm")) {
                assertTrue(dm.put(record.get("USUBJID").asText(), record) == null, "one record a subject");
            }
            Set<String> inQs = new HashSet<>();
            DatasetJsonConformanceTest.records(sent.get(0), "qs")
                    .forEach(r -> inQs.add(r.get("USUBJID").asText()));
            assertTrue(dm.keySet().containsAll(inQs));
            Set<String> adsl = new HashSet<>();
            for (Map<String, JsonNode> record : DatasetJsonConformanceTest.records(sent.get(1), "adsl")) {
                adsl.add(record.get("USUBJID").asText());
                Map<String, JsonNode> of = dm.get(record.get("USUBJID").asText());
                for (String same : List.of("STUDYID", "SUBJID", "SITEID", "AGE", "AGEU", "SEX", "DTHFL")) {
                    assertEquals(of.get(same), record.get(same), same);
                }
                assertFalse(record.containsKey("ARM") || of.containsKey("ARM") || of.containsKey("COUNTRY"));
            }
            assertEquals(dm.keySet(), adsl);
            for (Map<String, JsonNode> record : DatasetJsonConformanceTest.records(sent.get(1), "adhand")) {
                assertTrue(adsl.contains(record.get("USUBJID").asText()));
            }
        }
    }
}
