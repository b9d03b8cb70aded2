package lumbrical.report.drawing;

import java.util.List;
import lumbrical.number.Numbers;
import lumbrical.report.drawing.Drawing.Anchor;
import lumbrical.report.drawing.Drawing.Ink;
import lumbrical.report.drawing.Drawing.Label;

/** The improvement of each episode of a group, a bar each, the greatest at the left. Better is up. */
public final class OrderedImprovements {
    static final int WIDTH = 380;
    static final int HEIGHT = 208;
    private static final int LEFT = 48;
    private static final int RIGHT = 318;
    private static final int TOP = 28;
    private static final int BOTTOM = 182;
    private static final int MOST_TICKS = 6;
    /** Bars narrower than this are drawn without gaps. */
    private static final double NARROW = 4;

    private OrderedImprovements() {}

    /**
     * The drawing.
     *
     * @param improvements from the greatest to the least, at least one
     * @throws IllegalArgumentException if there is none
     */
    public static Drawing of(String title, ImprovementAxis axis, List<Double> improvements) {
        if (improvements.isEmpty()) {
            throw new IllegalArgumentException("Nothing to draw");
        }
        boolean worse = improvements.get(improvements.size() - 1) < 0;
        double low = worse && axis.used().isPresent()
                ? Math.min(axis.low(), -1.04 * axis.used().getAsDouble())
                : axis.low();
        LinearScale y = new LinearScale(low, axis.high(), BOTTOM, TOP);
        Canvas canvas = new Canvas(WIDTH, HEIGHT);
        StringBuilder path = new StringBuilder("M" + LEFT + " " + TOP + "V" + BOTTOM);
        canvas.ticksLeft(
                path, LEFT, y.ticks(MOST_TICKS).stream().map(t -> new Canvas.Tick(y.at(t), Numbers.format(t))));
        canvas.label(new Label(0, 14, Anchor.START, "improvement \u2191"));
        canvas.label(new Label(RIGHT, HEIGHT - 8, Anchor.END, improvements.size() + " episodes, in order"));
        canvas.stroke(Ink.BAR, bars(improvements, y));
        canvas.stroke(Ink.AXIS, path);
        canvas.stroke(Ink.AXIS, "M" + LEFT + " " + y.at(0) + "H" + RIGHT);
        canvas.beside(RIGHT + 4, y.at(0), TOP, BOTTOM, "same");
        axis.used().ifPresent(mcid -> {
            level(canvas, y.at(mcid), "MCID");
            if (worse) {
                level(canvas, y.at(-mcid), "worse");
            }
        });
        return canvas.drawing(title);
    }

    private static void level(Canvas canvas, int y, String name) {
        canvas.stroke(Ink.THRESHOLD, "M" + LEFT + " " + y + "H" + RIGHT);
        canvas.beside(RIGHT + 4, y, TOP, BOTTOM, name);
    }

    /** A bar each; where there are more than places, the outline of all. */
    private static String bars(List<Double> improvements, LinearScale y) {
        int n = improvements.size();
        double each = (double) (RIGHT - LEFT) / n;
        StringBuilder path = new StringBuilder();
        if (each < NARROW) {
            outline(path, improvements, y);
            return path.toString();
        }
        int width = (int) Math.min(each - 1, 40);
        for (int i = 0; i < n; i++) {
            int x = (int) Math.round(LEFT + 1 + i * each);
            int top = y.at(improvements.get(i));
            if (top != y.at(0)) {
                path.append('M')
                        .append(x)
                        .append(' ')
                        .append(y.at(0))
                        .append('V')
                        .append(top)
                        .append('h')
                        .append(width)
                        .append('V')
                        .append(y.at(0))
                        .append('z');
            }
        }
        return path.toString();
    }

    private static void outline(StringBuilder path, List<Double> improvements, LinearScale y) {
        int n = improvements.size();
        path.append('M').append(LEFT).append(' ').append(y.at(0));
        int level = y.at(0);
        for (int x = LEFT; x < RIGHT; x++) {
            int i = (int) Math.min(n - 1L, (long) (x - LEFT) * n / (RIGHT - LEFT));
            int top = y.at(improvements.get(i));
            if (top != level) {
                path.append('H').append(x).append('V').append(top);
                level = top;
            }
        }
        path.append('H').append(RIGHT).append('V').append(y.at(0)).append('z');
    }
}
