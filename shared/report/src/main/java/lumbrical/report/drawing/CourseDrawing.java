package lumbrical.report.drawing;

import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
import lumbrical.number.Numbers;
import lumbrical.report.drawing.Drawing.Anchor;
import lumbrical.report.drawing.Drawing.Ink;
import lumbrical.report.drawing.Drawing.Label;
import lumbrical.report.drawing.Drawing.Stroke;

/**
 * The course of one score over true time. Better is always up. A whisker shows what answers to the unanswered items could make of a
 * score; one without a mark is a form that has no score. Around the baseline lie two areas: changes that measurement error can
 * explain (MDC), and changes smaller than what patients call important (MCID).
 */
public final class CourseDrawing {
    static final int WIDTH = 360;
    static final int HEIGHT = 200;
    private static final int LEFT = 40;
    private static final int RIGHT = 306;
    private static final int TOP = 24;
    private static final int BOTTOM = 164;
    /** Half the height and width of a mark. */
    private static final int MARK = 5;

    private static final int MOST_SCORE_TICKS = 6;
    private static final int MOST_TIME_TICKS = 5;
    /** Room left of the first score, whose figure may stand there, and right of the last. */
    private static final int BEFORE = 44;

    private static final int AFTER = 20;

    private final Course course;
    private final LinearScale time;
    private final LinearScale score;
    private final List<Stroke> strokes = new ArrayList<>();
    private final List<Label> labels = new ArrayList<>();
    private final LabelPlacer placer = new LabelPlacer(WIDTH, HEIGHT);

    /**
     * A score, or a form without one.
     *
     * @param day days from the treatment
     * @param score the score; empty = none
     * @param low the lowest that any answers to unanswered items could give; empty = not known
     * @param high the highest
     * @param text the score as printed
     * @param counts whether it counts at its visit
     * @param joined whether a line leads to it from the score before
     */
    public record Point(
            int day,
            OptionalDouble score,
            OptionalDouble low,
            OptionalDouble high,
            String text,
            boolean counts,
            boolean joined) {}

    /**
     * What is drawn.
     *
     * @param title what it shows, in words
     * @param low lowest possible score
     * @param high highest possible score
     * @param higherIsBetter which end is the good one
     * @param baseline the score that changes are counted from
     * @param mcid smallest change that matters
     * @param mdc smallest change beyond measurement error
     * @param points by time, at least one
     */
    public record Course(
            String title,
            double low,
            double high,
            boolean higherIsBetter,
            OptionalDouble baseline,
            OptionalDouble mcid,
            OptionalDouble mdc,
            List<Point> points) {
        /** @throws IllegalArgumentException if there is no point */
        public Course {
            points = List.copyOf(points);
            if (points.isEmpty()) {
                throw new IllegalArgumentException("Nothing to draw");
            }
        }
    }

    private CourseDrawing(Course course) {
        this.course = course;
        int first =
                Math.min(0, course.points().stream().mapToInt(Point::day).min().orElse(0));
        int last = Math.max(
                first + 14, course.points().stream().mapToInt(Point::day).max().orElse(0));
        this.time = new LinearScale(first, last, LEFT + BEFORE, RIGHT - AFTER);
        this.score = new LinearScale(
                course.low(),
                course.high(),
                course.higherIsBetter() ? BOTTOM : TOP,
                course.higherIsBetter() ? TOP : BOTTOM);
    }

    /** The drawing of a course. */
    public static Drawing of(Course course) {
        return new CourseDrawing(course).draw();
    }

    private Drawing draw() {
        course.baseline().ifPresent(this::areas);
        axes();
        marks();
        return new Drawing(WIDTH, HEIGHT, course.title(), strokes, labels);
    }

    /** MDC and MCID around the baseline, as far as the scale reaches, and their names at the right. */
    private void areas(double baseline) {
        List<Label> names = new ArrayList<>();
        int level = score.at(baseline);
        area(Ink.IMPORTANCE, baseline, course.mcid());
        area(Ink.ERROR, baseline, course.mdc());
        strokes.add(new Stroke(Ink.LEVEL, "M" + LEFT + " " + level + "H" + RIGHT));
        names.add(new Label(RIGHT + 4, level + 5, Anchor.START, "start"));
        course.mcid().ifPresent(mcid -> name(names, "MCID", baseline, mcid));
        course.mdc().ifPresent(mdc -> name(names, "MDC", baseline, mdc));
        names.forEach(this::atTheRight);
    }

    private void area(Ink ink, double baseline, OptionalDouble width) {
        if (width.isPresent()) {
            int top = score.clipped(baseline + (course.higherIsBetter() ? 1 : -1) * width.getAsDouble());
            int bottom = score.clipped(baseline - (course.higherIsBetter() ? 1 : -1) * width.getAsDouble());
            strokes.add(new Stroke(ink, "M" + LEFT + " " + top + "H" + RIGHT + "V" + bottom + "H" + LEFT + "z"));
        }
    }

    /** The name of an area at its better edge; where that lies outside the scale, at its worse one. */
    private void name(List<Label> names, String text, double baseline, double width) {
        int sign = course.higherIsBetter() ? 1 : -1;
        double better = baseline + sign * width;
        double edge = better >= course.low() && better <= course.high() ? better : baseline - sign * width;
        names.add(new Label(RIGHT + 4, score.clipped(edge) + 5, Anchor.START, text));
    }

    /** As near to its place as the others leave room, along the right edge. */
    private void atTheRight(Label wanted) {
        List<Label> places = new ArrayList<>();
        for (int away = 0; away < HEIGHT; away++) {
            for (int y : new int[] {wanted.y() - away, wanted.y() + away}) {
                if (y >= TOP && y <= BOTTOM + 8) {
                    places.add(new Label(wanted.x(), y, wanted.anchor(), wanted.text()));
                }
            }
        }
        placer.place(places).ifPresent(labels::add);
    }

    private void axes() {
        StringBuilder path = new StringBuilder(160);
        path.append('M')
                .append(LEFT)
                .append(' ')
                .append(TOP)
                .append('V')
                .append(BOTTOM)
                .append('H')
                .append(RIGHT);
        for (double tick : score.ticks(MOST_SCORE_TICKS)) {
            int y = score.at(tick);
            path.append('M').append(LEFT - 4).append(' ').append(y).append("h4");
            label(new Label(LEFT - 6, y + 5, Anchor.END, Numbers.format(tick)));
        }
        for (TimeTicks.Tick tick : TimeTicks.until(time.valueAt(RIGHT), MOST_TIME_TICKS)) {
            int x = time.at(tick.day());
            path.append('M').append(x).append(' ').append(BOTTOM).append("v4");
            label(new Label(x, BOTTOM + 18, Anchor.MIDDLE, tick.text()));
        }
        strokes.add(new Stroke(Ink.AXIS, path.toString()));
        strokes.add(new Stroke(Ink.TREATMENT, "M" + time.at(0) + " " + TOP + "V" + BOTTOM));
        placer.keepFree(0, TOP, LEFT + 1.0, BOTTOM);
        label(new Label(0, 14, Anchor.START, "better \u2191"));
        label(new Label(RIGHT + 50, HEIGHT - 3, Anchor.END, "time since treatment"));
    }

    private void label(Label label) {
        placer.place(List.of(label)).ifPresent(labels::add);
    }

    private void marks() {
        StringBuilder line = new StringBuilder();
        StringBuilder whiskers = new StringBuilder();
        StringBuilder counted = new StringBuilder();
        StringBuilder hollow = new StringBuilder();
        StringBuilder none = new StringBuilder();
        StringBuilder possible = new StringBuilder();
        for (Point point : course.points()) {
            int x = time.at(point.day());
            if (point.low().isPresent() && point.high().isPresent()) {
                whisker(
                        point.score().isPresent() ? whiskers : possible,
                        x,
                        score.clipped(point.low().getAsDouble()),
                        score.clipped(point.high().getAsDouble()));
            }
            if (point.score().isEmpty()) {
                none.append('M').append(x - 4).append(' ').append(BOTTOM - 9).append("l8 8m0-8l-8 8");
                placer.keepFree(x - 5.0, BOTTOM - 10.0, x + 5.0, BOTTOM);
                continue;
            }
            int y = score.clipped(point.score().getAsDouble());
            if (point.counts()) { // a dot is a line of no length with round ends
                counted.append('M').append(x).append(' ').append(y).append("h0");
            } else {
                hollow.append('M').append(x - MARK).append(' ').append(y).append("a5 5 0 1 0 10 0a5 5 0 1 0-10 0");
            }
            placer.keepFree(x - MARK, y - MARK, x + MARK, y + MARK);
            if (point.counts()) {
                line.append(point.joined() && line.length() > 0 ? 'L' : 'M')
                        .append(x)
                        .append(' ')
                        .append(y);
            }
        }
        add(Ink.COURSE, line);
        add(Ink.WHISKER, whiskers);
        add(Ink.POSSIBLE, possible);
        add(Ink.NO_SCORE, none);
        add(Ink.HOLLOW, hollow);
        add(Ink.POINT, counted);
        values(true);
        values(false);
    }

    private void add(Ink ink, StringBuilder path) {
        if (path.length() > 0) {
            strokes.add(new Stroke(ink, path.toString()));
        }
    }

    private void whisker(StringBuilder path, int x, int a, int b) {
        int top = Math.min(a, b);
        int bottom = Math.max(a, b);
        if (bottom > top) {
            path.append('M')
                    .append(x - 4)
                    .append(' ')
                    .append(top)
                    .append("h8m-4 0V")
                    .append(bottom)
                    .append("m-4 0h8");
            placer.keepFree(x - 3.0, top, x + 3.0, bottom);
        }
    }

    /** The scores in figures, first those that count, wherever there is room. */
    private void values(boolean counts) {
        for (Point point : course.points()) {
            if (point.score().isEmpty() || point.counts() != counts) {
                continue;
            }
            int x = time.at(point.day());
            int y = score.clipped(point.score().getAsDouble());
            Optional<Label> placed = placer.place(List.of(
                    new Label(x, y - 9, Anchor.MIDDLE, point.text()),
                    new Label(x, y + 20, Anchor.MIDDLE, point.text()),
                    new Label(x + 9, y + 5, Anchor.START, point.text()),
                    new Label(x - 9, y + 5, Anchor.END, point.text()),
                    new Label(x + 7, y - 8, Anchor.START, point.text()),
                    new Label(x + 7, y + 19, Anchor.START, point.text()),
                    new Label(x - 7, y - 8, Anchor.END, point.text()),
                    new Label(x - 7, y + 19, Anchor.END, point.text())));
            placed.ifPresent(labels::add);
        }
    }
}
