package lumbrical.report.drawing;

import java.util.ArrayList;
import java.util.List;
import java.util.OptionalDouble;
import lumbrical.number.Numbers;
import lumbrical.report.drawing.Drawing.Anchor;
import lumbrical.report.drawing.Drawing.Ink;
import lumbrical.report.drawing.Drawing.Label;

/**
 * The course of a group over time to scale. Better is always up. A mark stands at the target day of its visit; a whisker is the interval
 * beside it, without an end where it goes on beyond the drawing. A visit of few episodes has an open mark, and a line joins neighbouring
 * visits only.
 */
public final class GroupCourseDrawing {
    static final int WIDTH = 540;
    static final int HEIGHT = 230;
    private static final int LEFT = 48;
    private static final int RIGHT = 462;
    private static final int TOP = 42;
    private static final int BOTTOM = 192;
    /** Room at the left for the figure of the first mark, and at the right. */
    private static final int BEFORE = 50;

    private static final int AFTER = 22;
    private static final int MARK = 5;
    private static final int MOST_TICKS = 6;
    private static final int SHORTEST_DAYS = 14;

    private final Course course;
    private final LinearScale time;
    private final LinearScale value;
    private final Canvas canvas = new Canvas(WIDTH, HEIGHT);

    /**
     * A visit.
     *
     * @param day its target day
     * @param value the mean or median there
     * @param low lower end of what lies about it; empty = not known
     * @param high upper end
     * @param text the value as printed
     * @param n how many episodes
     * @param few whether these are too few to rest on
     * @param joined whether the visit before has a value too
     */
    public record Point(
            int day,
            double value,
            OptionalDouble low,
            OptionalDouble high,
            String text,
            int n,
            boolean few,
            boolean joined) {}

    /**
     * A level across the drawing.
     *
     * @param value where
     * @param name what it is
     */
    public record Level(double value, String name) {}

    /**
     * What is drawn.
     *
     * @param title what it shows, in words
     * @param low the least value of the axis
     * @param high the greatest
     * @param higherIsBetter which end is the good one
     * @param levels levels across
     * @param points by time, at least one
     */
    public record Course(
            String title, double low, double high, boolean higherIsBetter, List<Level> levels, List<Point> points) {
        /** @throws IllegalArgumentException if there is no point */
        public Course {
            levels = List.copyOf(levels);
            points = List.copyOf(points);
            if (points.isEmpty()) {
                throw new IllegalArgumentException("Nothing to draw");
            }
        }
    }

    private GroupCourseDrawing(Course course) {
        this.course = course;
        int first = Math.min(0, course.points().get(0).day());
        int last = course.points().stream().mapToInt(Point::day).max().orElse(0);
        this.time = new LinearScale(first, Math.max(last, first + SHORTEST_DAYS), LEFT + BEFORE, RIGHT - AFTER);
        this.value = new LinearScale(
                course.low(),
                course.high(),
                course.higherIsBetter() ? BOTTOM : TOP,
                course.higherIsBetter() ? TOP : BOTTOM);
    }

    /** The drawing of a group's course. */
    public static Drawing of(Course course) {
        return new GroupCourseDrawing(course).draw();
    }

    private Drawing draw() {
        axes();
        for (Level level : course.levels()) {
            int y = value.clipped(level.value());
            canvas.stroke(level.value() == 0 ? Ink.ZERO : Ink.THRESHOLD, "M" + LEFT + " " + y + "H" + RIGHT);
            canvas.beside(RIGHT + 4, y, TOP - 4, BOTTOM + 4, level.name());
        }
        marks();
        return canvas.drawing(course.title());
    }

    private void axes() {
        StringBuilder path = new StringBuilder(160);
        path.append("M" + LEFT + " " + TOP + "V" + BOTTOM + "H" + RIGHT);
        canvas.ticksLeft(
                path, LEFT, value.ticks(MOST_TICKS).stream().map(t -> new Canvas.Tick(value.at(t), Numbers.format(t))));
        canvas.ticksUnder(
                path,
                BOTTOM,
                TimeTicks.until(time.valueAt(RIGHT), MOST_TICKS).stream()
                        .map(t -> new Canvas.Tick(time.at(t.day()), t.text())));
        canvas.stroke(Ink.AXIS, path);
        canvas.stroke(Ink.TREATMENT, "M" + time.at(0) + " " + TOP + "V" + BOTTOM);
        canvas.keepFree(0, TOP, LEFT + 1.0, BOTTOM);
        canvas.label(new Label(0, 14, Anchor.START, "better \u2191"));
        canvas.label(new Label(WIDTH, HEIGHT - 3, Anchor.END, "time since treatment"));
        canvas.label(new Label(WIDTH - 2, 30, Anchor.END, "episodes"));
        canvas.keepFree(LEFT, 18, RIGHT, TOP - 9.0);
    }

    private void marks() {
        StringBuilder line = new StringBuilder();
        StringBuilder whiskers = new StringBuilder();
        StringBuilder filled = new StringBuilder();
        StringBuilder open = new StringBuilder();
        LabelPlacer counts = new LabelPlacer(WIDTH, HEIGHT);
        for (Point point : course.points()) {
            int x = time.at(point.day());
            int y = value.clipped(point.value());
            if (point.low().isPresent() && point.high().isPresent()) {
                whisker(whiskers, x, point.low().getAsDouble(), point.high().getAsDouble());
            }
            (point.few() ? open : filled).append(mark(point.few(), x, y));
            canvas.keepFree(x - MARK, y - MARK, x + MARK, y + MARK);
            line.append(point.joined() && line.length() > 0 ? 'L' : 'M')
                    .append(x)
                    .append(' ')
                    .append(y);
        }
        canvas.stroke(Ink.COURSE, line);
        canvas.stroke(Ink.WHISKER, whiskers);
        canvas.stroke(Ink.HOLLOW, open);
        canvas.stroke(Ink.POINT, filled);
        values(course.points().get(0), counts);
        for (int i = course.points().size() - 1; i > 0; i--) { // late visits lie far apart, early ones close together
            values(course.points().get(i), counts);
        }
    }

    private static String mark(boolean few, int x, int y) {
        return few ? "M" + (x - MARK) + " " + y + "a5 5 0 1 0 10 0a5 5 0 1 0-10 0" : "M" + x + " " + y + "h0";
    }

    private void whisker(StringBuilder path, int x, double low, double high) {
        int a = value.clipped(low);
        int b = value.clipped(high);
        path.append('M').append(x).append(' ').append(a).append('V').append(b);
        cap(path, x, a, low);
        cap(path, x, b, high);
        canvas.keepFree(x - 3.0, Math.min(a, b), x + 3.0, Math.max(a, b));
    }

    /** The end of a whisker, unless it goes on. */
    private void cap(StringBuilder path, int x, int y, double at) {
        if (at >= course.low() && at <= course.high()) {
            path.append('M').append(x - 4).append(' ').append(y).append("h8");
        }
    }

    private void values(Point point, LabelPlacer counts) {
        int x = time.at(point.day());
        int y = value.clipped(point.value());
        Label left = new Label(x - 9, y + 5, Anchor.END, point.text());
        List<Label> places = new ArrayList<>(List.of(
                new Label(x + 7, y - 8, Anchor.START, point.text()),
                new Label(x + 7, y + 19, Anchor.START, point.text()),
                new Label(x - 7, y - 8, Anchor.END, point.text()),
                new Label(x - 7, y + 19, Anchor.END, point.text()),
                new Label(x + 9, y + 5, Anchor.START, point.text())));
        places.add(point.equals(course.points().get(0)) ? 0 : places.size(), left);
        canvas.label(places);
        Label n = new Label(x, 30, Anchor.MIDDLE, String.valueOf(point.n()));
        counts.place(List.of(n)).ifPresent(canvas::put);
    }
}
