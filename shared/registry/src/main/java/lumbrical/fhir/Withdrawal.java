package lumbrical.fhir;

import java.util.List;
import lumbrical.fhir.FhirFiles.SentRecord;

/** A resource that takes back one sent earlier: its identifier and the status {@code entered-in-error}, nothing else of it. */
final class Withdrawal {
    private Withdrawal() {}

    static boolean isForm(SentRecord record) {
        return record.identifier().indexOf('/') < 0;
    }

    static JsonObject of(SentRecord record) {
        if (isForm(record)) {
            return JsonObject.resource("QuestionnaireResponse")
                    .put("identifier", FhirCodes.identifier(FhirCodes.FORM_ID, record.identifier()))
                    .put("status", Status.WITHDRAWN);
        }
        return JsonObject.resource("Observation")
                .put("identifier", List.of(FhirCodes.identifier(FhirCodes.SCORE_ID, record.identifier())))
                .put("status", Status.WITHDRAWN)
                .put("code", new JsonObject().put("text", "withdrawn"));
    }
}
