/** Pages for a browser and for print. */
module lumbrical.report {
    requires static org.jspecify;
    requires transitive lumbrical.core;
    requires transitive lumbrical.tabular;
    requires gg.jte.runtime;

    exports lumbrical.report;
}
