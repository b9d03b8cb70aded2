package lumbrical.intake;

import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import java.util.stream.Stream;
import lumbrical.catalogue.Catalogue;
import lumbrical.instrument.Instrument;
import lumbrical.instrument.Scale;
import lumbrical.instrument.Side;
import lumbrical.scoring.ScoringPlan;

/**
 * A column in which an entry form shows a score of the responses beside it, or what belongs to the score.
 *
 * @param instrument the instrument
 * @param scale the scale
 * @param hand the hand asked about, or both averaged; empty for a scale asked of the person
 * @param shows what stands in it
 */
public record FormScoreColumn(Instrument instrument, Scale scale, Optional<Side> hand, Shows shows) {

    /** What a column shows of a score. */
    public enum Shows {
        /** The score. */
        SCORE("The score, by the rules of the definition; empty if there is none."),
        /** The lowest score that the unanswered items allow. */
        LOWEST("The lowest score that any answers to the unanswered items could give."),
        /** The highest score that the unanswered items allow. */
        HIGHEST("The highest score that any answers to the unanswered items could give."),
        /** How many items are blank. */
        UNANSWERED("How many of the items that count are blank."),
        /** The reason there is no score. */
        WHY("Why there is no score: too-few-answered, response-not-allowed, no-answers or part-not-scored.");

        private final String meaning;

        Shows(String meaning) {
            this.meaning = meaning;
        }

        /** The last word of the heading. */
        public String code() {
            return name().toLowerCase(Locale.ROOT);
        }

        /** What stands in the column, in words. */
        public String meaning() {
            return meaning;
        }

        /** Whether a number stands there that is a score or a bound of one. */
        boolean isScore() {
            return this == SCORE || this == LOWEST || this == HIGHEST;
        }
    }

    /** The columns of an instrument: reported scales in the order of the definition, right before left before both. */
    public static List<FormScoreColumn> of(Instrument instrument) {
        List<FormScoreColumn> columns = new ArrayList<>();
        for (ScoringPlan.Output output : ScoringPlan.of(instrument).outputs()) {
            for (Shows shows : Shows.values()) {
                columns.add(new FormScoreColumn(instrument, output.scale(), output.hand(), shows));
            }
        }
        return List.copyOf(columns);
    }

    /** The column with that heading, in lower case; empty if it is none of an entry form. */
    static Optional<FormScoreColumn> parse(String heading, Catalogue catalogue) {
        int blank = heading.indexOf(' ');
        if (blank <= 0 || Stream.of(Shows.values()).noneMatch(s -> heading.endsWith(" " + s.code()))) {
            return Optional.empty();
        }
        return catalogue.find(heading.substring(0, blank)).stream()
                .flatMap(instrument -> of(instrument).stream())
                .filter(column -> column.heading().equals(heading))
                .findFirst();
    }

    /** Its heading: {@code <instrument> <scale> [right|left|both] score}, or another last word. */
    public String heading() {
        return instrument.id() + " " + scale.id()
                + hand.map(h -> " " + h.code()).orElse("") + " " + shows.code();
    }
}
