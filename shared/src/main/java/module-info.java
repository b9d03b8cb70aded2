/** Files in and out: response and episode tables, workbooks and registry files. */
module org.handoutcomes.shared {
    requires static transitive org.jspecify;
    requires transitive org.handoutcomes.core;
    requires transitive org.handoutcomes.instruments;
    requires com.fasterxml.jackson.core;
    requires org.apache.commons.compress;
    requires org.apache.commons.csv;
    requires org.apache.poi.ooxml;
    requires org.apache.poi.ooxml.schemas;
    requires org.apache.poi.poi;
    requires java.xml;

    exports org.handoutcomes.batch;
    exports org.handoutcomes.cdisc;
    exports org.handoutcomes.deidentify;
    exports org.handoutcomes.exchange;
    exports org.handoutcomes.fhir;
    exports org.handoutcomes.output;
    exports org.handoutcomes.reconcile;
    exports org.handoutcomes.table;
    exports org.handoutcomes.vector;
    exports org.handoutcomes.workbook;
}
