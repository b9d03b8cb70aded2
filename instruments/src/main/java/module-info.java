/**
 * The instruments: definition files, and the catalogue that reads and checks them.
 *
 * <p>Start at {@link lumbrical.catalogue.Catalogue}.
 */
module lumbrical.instruments {
    requires static org.jspecify;
    requires transitive lumbrical.core;
    requires com.fasterxml.jackson.core;

    exports lumbrical.catalogue;
    exports lumbrical.document;
}
