/** Tables in and out, and files that appear whole or not at all. */
module lumbrical.tabular {
    requires static org.jspecify;
    requires transitive lumbrical.core;
    requires org.apache.commons.csv;
    requires java.xml;
    requires static org.apache.poi.ooxml;
    requires static org.apache.poi.ooxml.schemas;
    requires static org.apache.poi.poi;

    exports lumbrical.output;
    exports lumbrical.tabular;
}
