package lumbrical.fhir;

/** How one resource refers to another. */
enum References {
    /** To an entry of the same Bundle. */
    ENTRY {
        @Override
        JsonObject to(String type, String system, String value) {
            return new JsonObject()
                    .put("reference", FhirCodes.fullUrl(system, value))
                    .means(FhirCodes.logical(type, system, value));
        }
    },
    /** By identifier, for files that hold one resource a line. */
    LOGICAL {
        @Override
        JsonObject to(String type, String system, String value) {
            return FhirCodes.logical(type, system, value);
        }
    };

    abstract JsonObject to(String type, String system, String value);
}
