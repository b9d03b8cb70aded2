/** The columns of every table that is written, described once. */
module lumbrical.columns {
    requires static org.jspecify;
    requires com.fasterxml.jackson.core;
    requires transitive lumbrical.core;
    requires transitive lumbrical.instruments;
    requires transitive lumbrical.tabular;

    exports lumbrical.columns;
}
