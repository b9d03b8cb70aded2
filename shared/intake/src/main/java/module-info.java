/** Responses, episodes and schedules read into values and problems; whole files scored. */
module lumbrical.intake {
    requires static org.jspecify;
    requires transitive lumbrical.core;
    requires transitive lumbrical.instruments;
    requires transitive lumbrical.tabular;
    requires transitive lumbrical.columns;
    requires com.fasterxml.jackson.core;
    requires org.apache.commons.compress;
    requires org.apache.poi.ooxml;
    requires org.apache.poi.ooxml.schemas;
    requires org.apache.poi.poi;

    exports lumbrical.batch;
    exports lumbrical.clinic;
    exports lumbrical.fastpath;
    exports lumbrical.intake;
    exports lumbrical.questionnaire;
    exports lumbrical.reconcile;
}
