package lumbrical.deidentify;

import java.util.List;

/** Pseudonyms made from the ids with a secret. */
public final class KeyedPseudonyms implements Pseudonyms {
    private static final int SUBJECT = 16;
    private static final int EPISODE = 6;

    private final Secret secret;
    private final String origin;

    /** @param origin where the secret comes from, in words that end a sentence */
    public KeyedPseudonyms(Secret secret, String origin) {
        this.secret = secret;
        this.origin = origin;
    }

    @Override
    public String subject(String patient) {
        return PseudonymAlphabet.of(secret.hash("subject", List.of(patient)), SUBJECT);
    }

    @Override
    public String episode(String patient, String episode) {
        return subject(patient) + "-"
                + PseudonymAlphabet.of(secret.hash("episode", List.of(patient, episode)), EPISODE);
    }

    @Override
    public int shiftDays(String patient) {
        return secret.shiftDays(patient);
    }

    @Override
    public String statement() {
        return "Pseudonyms are a keyed hash (HMAC-SHA-256) of the patient's id: derived from it, so this is not Safe Harbor"
                + " (45 CFR 164.514(c)). A key file gives random pseudonyms. The key is " + origin + ".";
    }
}
