package lumbrical.cdisc;

import java.util.List;
import java.util.Optional;

/**
 * The code list of a variable.
 *
 * @param kind whether there is one, and whose
 * @param decodedBy for a list of ours, the variable of the same dataset that holds the words for its codes
 * @param oid for a list of the standard, its identifier in define.xml
 * @param name for a list of the standard, its name
 * @param code for a list of the standard, its code in the NCI Thesaurus
 * @param standard the terms of the standard's list that may be used
 */
record Terms(Kind kind, Optional<String> decodedBy, String oid, String name, String code, List<Term> standard) {
    /** Kinds of code list. */
    enum Kind {
        /** Any value. */
        FREE,
        /** Ours: the values that are used. */
        USED,
        /** A list of the standard, or part of it. */
        STANDARD
    }

    /**
     * A term of the standard.
     *
     * @param value as it stands in the data
     * @param decode in words
     * @param code its code in the NCI Thesaurus
     */
    record Term(String value, String decode, String code) {}

    /** Copies the list. */
    Terms {
        standard = List.copyOf(standard);
    }

    static final Terms FREE = new Terms(Kind.FREE, Optional.empty(), "", "", "", List.of());
    static final Terms USED = new Terms(Kind.USED, Optional.empty(), "", "", "", List.of());

    private static final Term YES = new Term("Y", "Yes", "C49488");

    /** Version 2020-12-18 of the controlled terminology, as the standard's own example of Define-XML 2.1 has it; also the others. */
    static final Terms YES_ONLY = standard("CL.NY_YONLY", "No Yes Response, only Y", "C66742", YES);

    static final Terms YES_NO = standard("CL.NY", "No Yes Response", "C66742", new Term("N", "No", "C49487"), YES);
    static final Terms NOT_DONE = standard("CL.ND", "Not Done", "C66789", new Term("NOT DONE", "Not Done", "C49484"));
    static final Terms AGE_UNIT = standard("CL.AGEU", "Age Unit", "C66781", new Term("YEARS", "Years", "C29848"));
    /** U and its code are from memory. */
    static final Terms SEX = standard(
            "CL.SEX",
            "Sex",
            "C66731",
            new Term("F", "Female", "C16576"),
            new Term("M", "Male", "C20197"),
            new Term("U", "Unknown", "C17998"));

    private static Terms standard(String oid, String name, String code, Term... terms) {
        return new Terms(Kind.STANDARD, Optional.empty(), oid, name, code, List.of(terms));
    }

    /** The values that are used, with the words that another variable holds. */
    static Terms usedAs(String decodedBy) {
        return new Terms(Kind.USED, Optional.of(decodedBy), "", "", "", List.of());
    }
}
