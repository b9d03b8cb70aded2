/**
 * The instruments: definition files, and the catalogue that reads and checks them.
 *
 * <p>Start at {@link org.handoutcomes.catalogue.Catalogue}.
 */
module org.handoutcomes.instruments {
    requires static transitive org.jspecify;
    requires transitive org.handoutcomes.core;
    requires com.fasterxml.jackson.core;

    exports org.handoutcomes.catalogue;
    exports org.handoutcomes.document;
}
