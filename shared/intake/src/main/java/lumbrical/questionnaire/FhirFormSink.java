package lumbrical.questionnaire;

/** Takes the forms of a file one by one. */
public interface FhirFormSink {
    /** A form. */
    void form(FhirForm form);

    /**
     * That a line of a file of lines cannot be read, and so is no form; the lines after it are read.
     *
     * @param line from 1
     * @param why what is wrong with it, as the end of a sentence
     */
    default void notReadable(int line, String why) {}

    /**
     * That an entry of a Bundle holds no resource although it is no request and no response either; the entries after it are read.
     *
     * @param entry counted through the file from 1; of a file of lines, its line
     * @param why what is wrong with it, as the end of a sentence
     */
    default void entryNotReadable(int entry, String why) {}

    /** Which share of the file's bytes has been read, now and then. */
    default void at(double share) {}

    /** That a Bundle says that a server holds more pages of it, which are not in this file. */
    default void morePages() {}
}
