package lumbrical.report.drawing;

import java.util.List;

/**
 * A drawing, ready to be printed: what it shows in words, then strokes and labels in its own units.
 *
 * @param width width in its units
 * @param height height in its units
 * @param title what it shows, in words, for who cannot see it
 * @param strokes lines and areas, the lowest first
 * @param labels texts
 */
public record Drawing(int width, int height, String title, List<Stroke> strokes, List<Label> labels) {
    /** Copies the lists. */
    public Drawing {
        strokes = List.copyOf(strokes);
        labels = List.copyOf(labels);
    }

    /** What a stroke stands for; the code is its class in the page's style sheet. */
    public enum Ink {
        /** Axes and their ticks. */
        AXIS("a"),
        /** The day of the treatment. */
        TREATMENT("t"),
        /** The area of measurement error. */
        ERROR("e"),
        /** The area of changes smaller than what counts as important. */
        IMPORTANCE("i"),
        /** The level of the baseline. */
        LEVEL("b"),
        /** The line between neighbouring scores. */
        COURSE("c"),
        /** What unanswered items could do. */
        WHISKER("w"),
        /** Scores that count. */
        POINT("p"),
        /** Scores that are listed only. */
        HOLLOW("h"),
        /** Forms without a score. */
        NO_SCORE("n"),
        /** What the score of such a form could have been. */
        POSSIBLE("g"),
        /** The threshold used. */
        THRESHOLD("m"),
        /** Other published thresholds. */
        OTHER_THRESHOLD("o"),
        /** No change. */
        ZERO("z"),
        /** Bars of a row of episodes. */
        BAR("u");

        private final String code;

        Ink(String code) {
            this.code = code;
        }

        /** The class in the style sheet. */
        public String code() {
            return code;
        }
    }

    /** To which side of its place a label stands; the code is its class in the style sheet, blank for the usual one. */
    public enum Anchor {
        START("s"),
        MIDDLE(""),
        END("r");

        private final String code;

        Anchor(String code) {
            this.code = code;
        }

        /** The class in the style sheet. */
        public String code() {
            return code;
        }
    }

    /**
     * A line or an area.
     *
     * @param ink what it stands for
     * @param path path data as SVG 1.1 defines it
     */
    public record Stroke(Ink ink, String path) {}

    /**
     * A text.
     *
     * @param x where it starts, has its middle or ends, by {@code anchor}
     * @param y its base line
     * @param anchor to which side it stands
     * @param text the text, not escaped
     */
    public record Label(int x, int y, Anchor anchor, String text) {}
}
