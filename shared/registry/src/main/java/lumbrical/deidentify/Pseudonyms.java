package lumbrical.deidentify;

import java.util.List;

/** Names that stand for patients and episodes outside the house. */
public sealed interface Pseudonyms permits ThrowawayPseudonyms, KeyFile {
    /** The pseudonym of a patient: sixteen letters, no vowel and no digit, so that it can be mistaken for no word and no id. */
    String subject(String patient);

    /** The pseudonym of an episode: the subject's, a hyphen, and what tells the subject's episodes apart. */
    String episode(String patient, String episode);

    /** The key of a form: twenty letters, a keyed hash of what is given of it. */
    String form(List<String> given);

    /** By how many days every date of that patient is moved, from -365 to -1. */
    int shiftDays(String patient);

    /** What kind of pseudonyms these are and what they are worth, in a sentence for the sender and the manifest. */
    String statement();
}
