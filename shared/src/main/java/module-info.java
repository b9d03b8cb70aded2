/** Files in and out: response and episode tables, workbooks and registry files. */
module lumbrical.shared {
    requires static transitive org.jspecify;
    requires transitive lumbrical.core;
    requires transitive lumbrical.instruments;
    requires com.fasterxml.jackson.core;
    requires org.apache.commons.compress;
    requires org.apache.commons.csv;
    requires org.apache.poi.ooxml;
    requires org.apache.poi.ooxml.schemas;
    requires org.apache.poi.poi;
    requires java.xml;

    exports lumbrical.batch;
    exports lumbrical.cdisc;
    exports lumbrical.deidentify;
    exports lumbrical.exchange;
    exports lumbrical.fhir;
    exports lumbrical.output;
    exports lumbrical.reconcile;
    exports lumbrical.table;
    exports lumbrical.vector;
    exports lumbrical.workbook;
}
