/** Pages of patients and reports of groups, for a browser and for print. */
module lumbrical.report {
    requires static org.jspecify;
    requires transitive lumbrical.core;
    requires transitive lumbrical.tabular;
    requires lumbrical.columns;
    requires gg.jte.runtime;

    exports lumbrical.report;
}
