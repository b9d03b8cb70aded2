package lumbrical.fhir;

/**
 * How one resource refers to another. A resource is made with plain references, by type and id; in a transaction those to a Patient
 * become conditional ones, since the receiver may know the patient under another id.
 */
final class References {
    private References() {}

    static JsonObject to(String type, String id) {
        return new JsonObject().put("reference", type + "/" + id);
    }

    static JsonObject toPatient(String subject) {
        return to("Patient", subject);
    }

    /** The text of a resource for a transaction. A pseudonym is of letters alone, so JSON writes it as it is. */
    static String inTransaction(String resource, String subject) {
        return resource.replace(
                "\"reference\":\"Patient/" + subject + "\"",
                "\"reference\":\"Patient?identifier=" + FhirCodes.SUBJECT_ID + "|" + subject + "\"");
    }
}
