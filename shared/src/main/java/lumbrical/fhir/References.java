package lumbrical.fhir;

/** How one resource refers to another. */
enum References {
    /** To an entry of the same Bundle. */
    ENTRY {
        @Override
        Element to(String type, String system, String value) {
            return new Element()
                    .put("reference", Terms.fullUrl(system, value))
                    .means(Terms.logical(type, system, value));
        }
    },
    /** By identifier, for files that hold one resource a line. */
    LOGICAL {
        @Override
        Element to(String type, String system, String value) {
            return Terms.logical(type, system, value);
        }
    };

    abstract Element to(String type, String system, String value);
}
