/** Workbooks: the longitudinal one, forms and lists. */
module lumbrical.workbook {
    requires static org.jspecify;
    requires transitive lumbrical.intake;
    requires org.apache.commons.compress;
    requires org.apache.poi.ooxml;
    requires org.apache.poi.ooxml.schemas;
    requires org.apache.poi.poi;

    exports lumbrical.workbook;
}
