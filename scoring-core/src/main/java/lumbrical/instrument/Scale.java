package lumbrical.instrument;

import java.util.Optional;

/**
 * A score that an instrument gives, and how.
 *
 * @param id its name within the instrument
 * @param title its name in words
 * @param composition what it is made of
 * @param range the lowest and highest possible score
 * @param better which end is the good one
 * @param metric its unit family
 * @param optional whether it is a module that a person may rightly leave out
 * @param reported false for a part that is only a step of another scale
 * @param noVerdictBefore first day after treatment from which a change may be judged
 * @param defaults thresholds used unless the user chooses others
 */
public record Scale(
        ScaleId id,
        String title,
        Composition composition,
        Range range,
        Direction better,
        Metric metric,
        boolean optional,
        boolean reported,
        Optional<NoVerdictBefore> noVerdictBefore,
        Optional<Defaults> defaults) {

    /**
     * Too early to judge.
     *
     * @param day days after the index date, from which on a change may be judged
     * @param reason why, in words
     */
    public record NoVerdictBefore(int day, String reason, Provenance provenance) {}

    /**
     * Ids of the thresholds used unless the user chooses others.
     *
     * @param reason why these, in words a surgeon can argue with
     */
    public record Defaults(Optional<String> mcid, Optional<String> mdc, Optional<String> pass, String reason) {}
}
