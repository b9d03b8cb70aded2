package lumbrical.questionnaire;

/** Takes the forms of a file one by one. */
public interface FhirFormSink {
    /** A form. */
    void form(FhirForm form);

    /** Which share of the file's bytes has been read, now and then. */
    default void at(double share) {}

    /** That a Bundle says that a server holds more pages of it, which are not in this file. */
    default void morePages() {}
}
