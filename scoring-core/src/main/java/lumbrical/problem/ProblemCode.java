package lumbrical.problem;

import java.util.Locale;

/** Kinds of problems and notes. The codes are written to files: add, never rename. */
public enum ProblemCode {
    RESPONSE_NOT_ALLOWED,
    UNKNOWN_COLUMN,
    PATIENT_MISSING,
    DATE_MISSING,
    DATE_NOT_ISO,
    DATE_IN_FUTURE,
    DATE_BEFORE_BIRTH,
    SIDE_NOT_KNOWN,
    SIDE_DIFFERS_FROM_EPISODE,
    DUPLICATE_SITTING,
    TOO_MANY_CELLS,
    EPISODE_NOT_FOUND,
    EPISODE_AMBIGUOUS,
    EPISODE_TWICE,
    EPISODE_MISSING,
    INDEX_DATE_MISSING,
    INSTRUMENT_NOT_KNOWN,
    ITEM_NOT_KNOWN,
    VALUE_NOT_ALLOWED,
    FORM_SCORE_DIFFERS,
    FORMULA_NOT_CALCULATED,
    NO_INSTRUMENT_FOUND,
    DATE_STYLE_FITS_NONE,
    CLOSED_BEFORE_INDEX,
    CLOSED_ON_MISSING,
    DATE_LONG_AGO,
    FORM_NOT_READABLE,
    ROWS_IN_A_CELL,
    NOTE_SAME_ANSWER_THROUGHOUT,
    NOTE_LARGE_CHANGE_IN_SHORT_TIME,
    NOTE_ANSWERS_AFTER_SKIP,
    NOTE_BASELINE_MISSING,
    NOTE_BASELINE_AFTER_TREATMENT,
    NOTE_UNSCHEDULED,
    NOTE_RULE_FROM_MEMORY,
    NOTE_SMALL_CELL,
    NOTE_FORMULA_CELLS,
    NOTE_HIDDEN_ROWS,
    NOTE_TITLE_ROW,
    NOTE_FORMS_NOT_KNOWN,
    NOTE_FORM_AFTER_CLOSING,
    NOTE_SCHEDULE_MAY_DIFFER,
    NOTE_CONDITION_NOT_KNOWN,
    NOTE_ITEM_NEVER_ASKED,
    NOTE_SHEET_CHOSEN,
    NOTE_THRESHOLD_NOT_USED,
    NOTE_ANSWERS_TAKEN_AWAY,
    NOTE_DATE_STYLE_IN_DOUBT,
    NOTE_COLUMNS_LEFT_OUT,
    NOTE_MAPPING_NOT_USED,
    NOTE_LEADING_ZEROS,
    NOTE_NO_ROWS,
    NOTE_DATE_IS_RELATIVE,
    NOTE_FORM_ENTERED_IN_ERROR,
    NOTE_FORM_NOT_FINISHED,
    NOTE_OTHER_VERSION,
    NOTE_MORE_PAGES,
    NOTE_SHORT_ROW;

    /** The code in files, such as {@code date-not-iso}; a note's starts with {@code note-}. */
    public String code() {
        return name().toLowerCase(Locale.ROOT).replace('_', '-');
    }

    /** Whether a row of responses with this problem gives no sitting at all. */
    public boolean rejectsRow() {
        return switch (this) {
            case PATIENT_MISSING,
                    DATE_MISSING,
                    DATE_NOT_ISO,
                    TOO_MANY_CELLS,
                    INSTRUMENT_NOT_KNOWN,
                    ITEM_NOT_KNOWN,
                    FORM_NOT_READABLE,
                    ROWS_IN_A_CELL -> true;
            default -> false;
        };
    }

    /** Whether it is a note, which never changes the exit status. */
    public boolean isNote() {
        return name().startsWith("NOTE_");
    }
}
