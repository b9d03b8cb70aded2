package lumbrical.report.drawing;

import java.util.List;
import java.util.OptionalDouble;
import java.util.stream.Stream;
import lumbrical.number.Numbers;
import lumbrical.report.drawing.Drawing.Anchor;
import lumbrical.report.drawing.Drawing.Ink;
import lumbrical.report.drawing.Drawing.Label;

/** How many of a group improved by at least how much, with the thresholds across it. */
public final class DistributionDrawing {
    static final int WIDTH = 380;
    static final int HEIGHT = 208;
    private static final int LEFT = 52;
    private static final int RIGHT = 366;
    private static final int TOP = 40;
    private static final int BOTTOM = 158;
    private static final int MOST_TICKS = 6;
    /** Room to each side of the name of the threshold used. */
    private static final double NAME = 28;

    private DistributionDrawing() {}

    /**
     * A step.
     *
     * @param improvement an improvement seen
     * @param percent how many improved by that or more, from 0 to 100
     */
    public record Step(double improvement, double percent) {}

    /**
     * The drawing.
     *
     * @param steps from the least improvement to the greatest, at least one
     * @throws IllegalArgumentException if there is no step
     */
    public static Drawing of(String title, ImprovementAxis axis, List<Step> steps) {
        if (steps.isEmpty()) {
            throw new IllegalArgumentException("Nothing to draw");
        }
        LinearScale x = new LinearScale(axis.low(), axis.high(), LEFT, RIGHT);
        LinearScale y = new LinearScale(0, 100, BOTTOM, TOP);
        Canvas canvas = new Canvas(WIDTH, HEIGHT);
        StringBuilder path = new StringBuilder("M" + LEFT + " " + TOP + "V" + BOTTOM + "H" + RIGHT);
        canvas.ticksLeft(
                path,
                LEFT,
                Stream.of(0, 25, 50, 75, 100)
                        .map(p -> new Canvas.Tick(y.at(p), p == 100 ? "100 %" : String.valueOf(p))));
        canvas.ticksUnder(
                path, BOTTOM, x.ticks(MOST_TICKS).stream().map(t -> new Canvas.Tick(x.at(t), Numbers.format(t))));
        canvas.label(new Label(RIGHT, HEIGHT - 8, Anchor.END, "improvement, points"));
        for (double other : axis.published()) {
            canvas.stroke(Ink.OTHER_THRESHOLD, "M" + x.at(other) + " " + TOP + "V" + BOTTOM);
        }
        canvas.stroke(Ink.ZERO, "M" + x.at(0) + " " + TOP + "V" + BOTTOM);
        line(canvas, x, axis.used(), "MCID");
        axis.used().ifPresent(mcid -> canvas.keepFree(x.at(mcid) - NAME, TOP - 18.0, x.at(mcid) + NAME, TOP - 4.0));
        line(canvas, x, axis.mdc(), "MDC");
        canvas.stroke(Ink.AXIS, path);
        canvas.stroke(Ink.COURSE, curve(steps, x, y));
        return canvas.drawing(title);
    }

    private static void line(Canvas canvas, LinearScale x, OptionalDouble at, String name) {
        if (at.isPresent()) {
            int place = x.at(at.getAsDouble());
            canvas.stroke(name.equals("MCID") ? Ink.THRESHOLD : Ink.LEVEL, "M" + place + " " + TOP + "V" + BOTTOM);
            canvas.label(
                    new Label(place, TOP - 6, Anchor.MIDDLE, name), new Label(place, TOP - 22, Anchor.MIDDLE, name));
        }
    }

    /** From everybody at the left down to nobody at the right; steps that fall on one place are drawn as one. */
    private static String curve(List<Step> steps, LinearScale x, LinearScale y) {
        StringBuilder path = new StringBuilder("M" + LEFT + " " + y.at(100));
        int level = y.at(100);
        int at = LEFT;
        for (Step step : steps) {
            int height = y.at(step.percent());
            if (height != level) { // the share falls just after the improvement before
                path.append('H').append(at).append('V').append(height);
                level = height;
            }
            at = x.at(step.improvement());
        }
        return path.append('H')
                .append(at)
                .append('V')
                .append(y.at(0))
                .append('H')
                .append(RIGHT)
                .toString();
    }
}
