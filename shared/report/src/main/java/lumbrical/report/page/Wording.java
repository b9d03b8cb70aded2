package lumbrical.report.page;

import java.util.Locale;
import java.util.Optional;
import java.util.regex.Pattern;
import lumbrical.followup.AssignedScore;
import lumbrical.followup.VisitAssignment;
import lumbrical.scoring.Reason;

/** Small phrases that sentences and tables share. */
final class Wording {
    private static final Pattern SPAN_OF_TIME = Pattern.compile("\\d+ (day|week|month|year)s?");

    private Wording() {}

    static String upperFirst(String text) {
        return text.isEmpty() ? text : text.substring(0, 1).toUpperCase(Locale.ROOT) + text.substring(1);
    }

    /** {@code at 6 months}, {@code at the visit 'T3'}, or the day where no visit holds it. */
    static String when(AssignedScore score) {
        VisitAssignment at = score.at();
        return at.visit()
                .map(v ->
                        SPAN_OF_TIME.matcher(v.name()).matches() ? "at " + v.name() : "at the visit '" + v.name() + "'")
                .orElseGet(() ->
                        score.form().sitting().day().map(day -> "on " + day).orElse("on a day not known"));
    }

    /** Why a form has no score, as a clause that follows 'because'. */
    static String why(Optional<Reason> reason) {
        return reason.map(r -> switch (r) {
                    case TOO_FEW_ANSWERED -> "too few questions were answered";
                    case RESPONSE_NOT_ALLOWED -> "an answer is not one that the form allows";
                    case NO_ANSWERS -> "no question was answered";
                    case PART_NOT_SCORED -> "one of its parts has no score";
                    case RULE_NOT_PUBLISHED -> "only published rules were to be used";
                })
                .orElse("it has no score");
    }
}
