/** Registry files: what may leave a clinic, and in which standard. */
module lumbrical.registry {
    requires static org.jspecify;
    requires transitive lumbrical.columns;
    requires com.fasterxml.jackson.core;
    requires java.xml;

    exports lumbrical.cdisc;
    exports lumbrical.deidentify;
    exports lumbrical.fhir;
    exports lumbrical.registry;
}
