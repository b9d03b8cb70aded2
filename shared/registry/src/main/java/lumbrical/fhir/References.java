package lumbrical.fhir;

/** How one resource refers to another: by its id, and to a Patient as the kind of file needs. */
enum References {
    /** In a transaction: the receiver may know the patient under another id. */
    TRANSACTION {
        @Override
        JsonObject toPatient(String subject) {
            return new JsonObject()
                    .put("reference", "Patient?identifier=" + FhirCodes.SUBJECT_ID + "|" + subject)
                    .means(to("Patient", subject));
        }
    },
    /** In files that hold one resource a line, which nobody resolves. */
    LINES {
        @Override
        JsonObject toPatient(String subject) {
            return to("Patient", subject);
        }
    };

    abstract JsonObject toPatient(String subject);

    JsonObject to(String type, String id) {
        return new JsonObject().put("reference", type + "/" + id);
    }
}
