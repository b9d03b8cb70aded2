package lumbrical.fhir;

import java.util.List;
import lumbrical.fhir.FhirFiles.SentRecord;

/** A resource that takes back one sent earlier: its identifier and the status {@code entered-in-error}, nothing else of it. */
final class Withdrawal {
    private Withdrawal() {}

    static boolean isForm(SentRecord record) {
        return record.identifier().indexOf('/') < 0;
    }

    static Element of(SentRecord record) {
        if (isForm(record)) {
            return Element.resource("QuestionnaireResponse")
                    .put("identifier", Terms.identifier(Terms.FORM_ID, record.identifier()))
                    .put("status", Status.WITHDRAWN);
        }
        return Element.resource("Observation")
                .put("identifier", List.of(Terms.identifier(Terms.SCORE_ID, record.identifier())))
                .put("status", Status.WITHDRAWN)
                .put("code", new Element().put("text", "withdrawn"));
    }
}
