package lumbrical.deidentify;

import java.util.List;

/** Random pseudonyms that are kept nowhere: no later upload can match this one. */
public final class ThrowawayPseudonyms implements Pseudonyms {
    private final KeyFile keys = KeyFile.unsaved();

    /** New pseudonyms, unlike all others. */
    public ThrowawayPseudonyms() {}

    @Override
    public String subject(String patient) {
        return keys.subject(patient);
    }

    @Override
    public String episode(String patient, String episode) {
        return keys.episode(patient, episode);
    }

    @Override
    public String form(List<String> given) {
        return keys.form(given);
    }

    @Override
    public int shiftDays(String patient) {
        return keys.shiftDays(patient);
    }

    @Override
    public String statement() {
        return "Pseudonyms are random and kept nowhere: no later upload can match this one.";
    }
}
