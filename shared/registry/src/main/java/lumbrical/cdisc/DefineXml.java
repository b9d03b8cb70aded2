package lumbrical.cdisc;

import java.io.IOException;
import java.io.OutputStream;
import java.nio.charset.StandardCharsets;
import java.time.LocalDate;
import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Optional;
import javax.xml.stream.XMLOutputFactory;
import javax.xml.stream.XMLStreamException;
import javax.xml.stream.XMLStreamWriter;

/**
 * Writes the description of the datasets by Define-XML 2.1: each dataset, variable, type, origin, derivation and code list. Elements
 * and their order: the schema of Define-XML 2.1, on ODM 1.3.2.
 */
final class DefineXml {
    /** Its name in the folder. */
    static final String FILE = "define.xml";

    private static final String ODM = "http://www.cdisc.org/ns/odm/v1.3";
    private static final String DEF = "http://www.cdisc.org/ns/def/v2.1";
    private static final String XLINK = "http://www.w3.org/1999/xlink";
    private static final String STANDARD = "STD.IG";
    private static final String TERMINOLOGY = "STD.CT";

    /** The publication of which the codes of {@link Terms} are. */
    private static final String TERMINOLOGY_VERSION = "2020-12-18";

    /**
     * What is described.
     *
     * @param standard name of the implementation guide
     * @param version its version
     * @param purpose Tabulation or Analysis
     * @param study the study
     * @param asOf the day on which the clinic is looked at
     * @param program name and version of the program, with a space between
     * @param ending what follows the names of datasets in the names of their files
     */
    record Described(
            String standard,
            String version,
            String purpose,
            String study,
            LocalDate asOf,
            String program,
            String ending) {
        boolean tabulation() {
            return purpose.equals("Tabulation");
        }
    }

    private final Described described;
    private final Map<DatasetFacts, String> files;
    private final XMLStreamWriter xml;

    private DefineXml(Described described, Map<DatasetFacts, String> files, XMLStreamWriter xml) {
        this.described = described;
        this.files = files;
        this.xml = xml;
    }

    /** @param files the datasets, each with the name of its file without the ending */
    static long write(Described described, Map<DatasetFacts, String> files, OutputStream out) throws IOException {
        try {
            XMLStreamWriter xml =
                    XMLOutputFactory.newDefaultFactory().createXMLStreamWriter(out, StandardCharsets.UTF_8.name());
            new DefineXml(described, new LinkedHashMap<>(files), xml).document();
            xml.flush();
        } catch (XMLStreamException e) {
            throw new IOException(e);
        }
        return 1;
    }

    private void document() throws XMLStreamException {
        int space = described.program().lastIndexOf(' ');
        String kind = described.tabulation() ? "sdtm" : "adam";
        xml.writeStartDocument("UTF-8", "1.0");
        xml.writeCharacters("\n");
        xml.writeStartElement("ODM");
        xml.writeDefaultNamespace(ODM);
        xml.writeNamespace("def", DEF);
        xml.writeNamespace("xlink", XLINK);
        attributes("ODMVersion", "1.3.2", "FileType", "Snapshot");
        attributes("FileOID", "lumbrical." + described.study() + "." + kind + ".define");
        attributes("CreationDateTime", described.asOf() + "T00:00:00");
        attributes("SourceSystem", described.program().substring(0, space));
        attributes("SourceSystemVersion", described.program().substring(space + 1));
        attributes("def:Context", "Other");
        start("Study", "OID", described.study());
        start("GlobalVariables");
        text("StudyName", described.study());
        text("StudyDescription", "Hand and wrist patient-reported outcomes");
        text("ProtocolName", described.study());
        end();
        start("MetaDataVersion", "OID", "MDV." + kind, "Name", "Data definitions", "def:DefineVersion", "2.1.0");
        standards();
        for (Map.Entry<DatasetFacts, String> file : files.entrySet()) {
            dataset(file.getKey(), file.getValue());
        }
        each(this::variable);
        codeLists();
        each(this::method);
        each(this::comment);
        for (int depth = 0; depth < 3; depth++) {
            end();
        }
        xml.writeEndDocument();
    }

    private void standards() throws XMLStreamException {
        start("def:Standards");
        empty(
                "def:Standard",
                "OID",
                STANDARD,
                "Name",
                described.standard(),
                "Type",
                "IG",
                "Version",
                described.version(),
                "Status",
                "Final");
        empty(
                "def:Standard",
                "OID",
                TERMINOLOGY,
                "Name",
                "CDISC/NCI",
                "Type",
                "CT",
                "PublishingSet",
                "SDTM",
                "Version",
                TERMINOLOGY_VERSION,
                "Status",
                "Final");
        end();
    }

    private void dataset(DatasetFacts facts, String file) throws XMLStreamException {
        Dataset dataset = facts.dataset();
        start("ItemGroupDef", "OID", "IG." + dataset.name(), "Name", dataset.name());
        if (described.tabulation() && dataset.form() != Dataset.Form.OURS) {
            attributes("Domain", dataset.name().replaceFirst("^SUPP", ""));
        }
        attributes("Repeating", dataset.form().repeating() ? "Yes" : "No", "IsReferenceData", "No");
        attributes("SASDatasetName", dataset.name(), "Purpose", described.purpose());
        attributes("def:Structure", dataset.form().structure());
        if (dataset.form() == Dataset.Form.OURS) {
            attributes("def:IsNonStandard", "Yes");
        } else {
            attributes("def:StandardOID", STANDARD);
        }
        attributes("def:ArchiveLocationID", "LF." + dataset.name());
        if (facts.records() == 0) {
            attributes("def:HasNoData", "Yes");
        }
        description(dataset.label());
        int order = 0;
        for (Variable variable : dataset.variables()) {
            start("ItemRef", "ItemOID", oid("IT", dataset, variable), "OrderNumber", String.valueOf(++order));
            attributes("Mandatory", mandatory(facts, variable) ? "Yes" : "No");
            if (variable.key() > 0) {
                attributes("KeySequence", String.valueOf(variable.key()));
            }
            if (variable.source() == Variable.Source.DERIVED) {
                attributes("MethodOID", oid("MT", dataset, variable));
            }
            if (facts.held(variable).longest() == 0) {
                attributes("def:HasNoData", "Yes");
            }
            end();
        }
        Optional<String> className = dataset.form().className();
        if (className.isPresent()) {
            empty("def:Class", "Name", className.get());
        }
        start("def:leaf", "ID", "LF." + dataset.name(), "xlink:href", file + described.ending());
        text("def:title", file + described.ending());
        end();
        end();
    }

    /** Keys, and what the standard requires, where no record is without it. */
    private static boolean mandatory(DatasetFacts facts, Variable variable) {
        return (variable.key() > 0 || variable.required())
                && facts.held(variable).filled() == facts.records();
    }

    private void variable(DatasetFacts facts, Variable variable) throws XMLStreamException {
        Dataset dataset = facts.dataset();
        DatasetFacts.Held held = facts.held(variable);
        start("ItemDef", "OID", oid("IT", dataset, variable), "Name", variable.name());
        String type = type(variable, held);
        attributes("DataType", type);
        if (type.equals("text") || type.equals("integer") || type.equals("float")) {
            attributes("Length", String.valueOf(Math.max(1, held.longest())));
        }
        if (type.equals("float")) {
            attributes("SignificantDigits", String.valueOf(held.decimals()));
        }
        attributes("SASFieldName", variable.name());
        if (variable.type().displayFormat().isPresent()) {
            attributes("def:DisplayFormat", variable.type().displayFormat().get());
        }
        if (hasComment(variable)) {
            attributes("def:CommentOID", oid("COM", dataset, variable));
        }
        description(variable.label());
        Optional<String> list = list(dataset, variable, held);
        if (list.isPresent()) {
            empty("CodeListRef", "CodeListOID", list.get());
        }
        start("def:Origin", "Type", variable.source().word());
        switch (variable.source()) {
            case PREDECESSOR -> description(variable.origin());
            case COLLECTED -> attributes("Source", "Subject");
            case ASSIGNED, DERIVED, PROTOCOL -> attributes("Source", "Sponsor");
            case NOT_AVAILABLE -> {
                // nobody holds it
            }
        }
        end();
        end();
    }

    /** The data type of Define-XML; a numeric date of ADaM is an integer that is shown as a date. */
    private static String type(Variable variable, DatasetFacts.Held held) {
        return switch (variable.type()) {
            case TEXT -> "text";
            case INTEGER, DATE -> "integer";
            case NUMBER -> "float";
            case ISO_DATE -> held.longest() == "2026-01-01".length() ? "date" : "partialDate";
            case DURATION -> "durationDatetime";
        };
    }

    private static Optional<String> list(Dataset dataset, Variable variable, DatasetFacts.Held held) {
        return switch (variable.terms().kind()) {
            case FREE -> Optional.empty();
            case STANDARD -> Optional.of(variable.terms().oid());
            case USED -> held.values().isEmpty() ? Optional.empty() : Optional.of(oid("CL", dataset, variable));
        };
    }

    private void codeLists() throws XMLStreamException {
        List<String> written = new ArrayList<>();
        each((facts, variable) -> {
            Terms terms = variable.terms();
            DatasetFacts.Held held = facts.held(variable);
            Optional<String> oid = list(facts.dataset(), variable, held);
            if (oid.isEmpty() || written.contains(oid.get())) {
                return;
            }
            written.add(oid.get());
            if (terms.kind() == Terms.Kind.STANDARD) {
                standardList(terms);
            } else {
                ownList(oid.get(), facts.dataset().name() + "." + variable.name(), terms, held);
            }
        });
    }

    private void standardList(Terms terms) throws XMLStreamException {
        start("CodeList", "OID", terms.oid(), "Name", terms.name(), "DataType", "text", "def:StandardOID", TERMINOLOGY);
        for (Terms.Term term : terms.standard()) {
            start("CodeListItem", "CodedValue", term.value());
            start("Decode");
            text("TranslatedText", term.decode());
            end();
            empty("Alias", "Context", "nci:ExtCodeID", "Name", term.code());
            end();
        }
        empty("Alias", "Context", "nci:ExtCodeID", "Name", terms.code());
        end();
    }

    private void ownList(String oid, String name, Terms terms, DatasetFacts.Held held) throws XMLStreamException {
        start("CodeList", "OID", oid, "Name", name, "DataType", "text", "def:IsNonStandard", "Yes");
        for (Map.Entry<String, String> value : held.values().entrySet()) {
            if (terms.decodedBy().isEmpty()) {
                empty("EnumeratedItem", "CodedValue", value.getKey());
                continue;
            }
            start("CodeListItem", "CodedValue", value.getKey());
            start("Decode");
            text("TranslatedText", value.getValue());
            end();
            end();
        }
        end();
    }

    private void method(DatasetFacts facts, Variable variable) throws XMLStreamException {
        if (variable.source() == Variable.Source.DERIVED) {
            String name = facts.dataset().name() + "." + variable.name();
            start("MethodDef", "OID", oid("MT", facts.dataset(), variable), "Name", name, "Type", "Computation");
            description(variable.origin());
            end();
        }
    }

    private static boolean hasComment(Variable variable) {
        return variable.source() != Variable.Source.DERIVED && variable.source() != Variable.Source.PREDECESSOR;
    }

    private void comment(DatasetFacts facts, Variable variable) throws XMLStreamException {
        if (hasComment(variable)) {
            start("def:CommentDef", "OID", oid("COM", facts.dataset(), variable));
            description(variable.origin());
            end();
        }
    }

    /** Takes a variable of a dataset. */
    private interface VariableTaker {
        void take(DatasetFacts facts, Variable variable) throws XMLStreamException;
    }

    private void each(VariableTaker taker) throws XMLStreamException {
        for (DatasetFacts facts : files.keySet()) {
            for (Variable variable : facts.dataset().variables()) {
                taker.take(facts, variable);
            }
        }
    }

    private static String oid(String kind, Dataset dataset, Variable variable) {
        return String.format(Locale.ROOT, "%s.%s.%s", kind, dataset.name(), variable.name());
    }

    private void description(String words) throws XMLStreamException {
        start("Description");
        text("TranslatedText", words);
        end();
    }

    private void start(String element, String... attributes) throws XMLStreamException {
        xml.writeCharacters("\n");
        xml.writeStartElement(element);
        attributes(attributes);
    }

    private void empty(String element, String... attributes) throws XMLStreamException {
        xml.writeCharacters("\n");
        xml.writeEmptyElement(element);
        attributes(attributes);
    }

    private void end() throws XMLStreamException {
        xml.writeEndElement();
    }

    private void text(String element, String words) throws XMLStreamException {
        start(element);
        if (element.equals("TranslatedText")) {
            attributes("xml:lang", "en");
        }
        xml.writeCharacters(allowed(words));
        end();
    }

    private void attributes(String... namesAndValues) throws XMLStreamException {
        for (int i = 0; i < namesAndValues.length; i += 2) {
            xml.writeAttribute(namesAndValues[i], allowed(namesAndValues[i + 1]));
        }
    }

    /** The text with a replacement character for each character that XML 1.0 does not allow. */
    private static String allowed(String text) {
        return text.codePoints()
                .map(c -> c == '\t'
                                || c == '\n'
                                || c == '\r'
                                || c >= 0x20 && c <= 0xD7FF
                                || c >= 0xE000 && c <= 0xFFFD
                                || c >= 0x10000
                        ? c
                        : 0xFFFD)
                .collect(StringBuilder::new, StringBuilder::appendCodePoint, StringBuilder::append)
                .toString();
    }
}
