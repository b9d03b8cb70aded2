package lumbrical.report.drawing;

import java.util.List;
import java.util.Optional;
import java.util.stream.Stream;
import lumbrical.instrument.Range;
import lumbrical.report.drawing.Drawing.Anchor;
import lumbrical.report.drawing.Drawing.Ink;
import lumbrical.report.drawing.Drawing.Label;

/**
 * How many of a group improved by each of several thresholds: a mark with its interval a line. The threshold used has a filled mark, and
 * below it a dashed line from what the share would be had none of the missing improved to what it would be had all.
 */
public final class SharesDrawing {
    static final int WIDTH = 380;
    private static final int LEFT = 96;
    private static final int RIGHT = 268;
    private static final int TOP = 24;
    private static final int LINE = 22;
    private static final int MARK = 5;

    private SharesDrawing() {}

    /**
     * A line.
     *
     * @param name the threshold
     * @param used whether it is the one used
     * @param percent the share, from 0 to 100
     * @param interval its interval
     * @param possible what the missing could make of it
     * @param text the share as printed
     */
    public record Line(
            String name, boolean used, double percent, Range interval, Optional<Range> possible, String text) {}

    /**
     * The drawing.
     *
     * @param lines at least one
     * @throws IllegalArgumentException if there is none
     */
    public static Drawing of(String title, List<Line> lines) {
        if (lines.isEmpty()) {
            throw new IllegalArgumentException("Nothing to draw");
        }
        int bottom = TOP + LINE * lines.size() + 8;
        int height = bottom + 46;
        LinearScale x = new LinearScale(0, 100, LEFT, RIGHT);
        Canvas canvas = new Canvas(WIDTH, height);
        StringBuilder axis = new StringBuilder("M" + LEFT + " " + TOP + "V" + bottom + "H" + RIGHT);
        canvas.ticksUnder(
                axis,
                bottom,
                Stream.of(0, 25, 50, 75, 100)
                        .map(p -> new Canvas.Tick(x.at(p), p == 100 ? "100 %" : String.valueOf(p))));
        canvas.put(new Label(0, 14, Anchor.START, "MCID"));
        canvas.put(new Label(WIDTH, 14, Anchor.END, "improved"));
        StringBuilder whiskers = new StringBuilder();
        StringBuilder filled = new StringBuilder();
        StringBuilder open = new StringBuilder();
        StringBuilder possible = new StringBuilder();
        int y = TOP + LINE / 2;
        for (Line line : lines) {
            int low = x.at(line.interval().low());
            int high = x.at(line.interval().high());
            whiskers.append("M" + low + " " + (y - 4) + "v8m0-4H" + high + "m0-4v8");
            int at = x.at(line.percent());
            if (line.used()) {
                filled.append("M" + at + " " + y + "h0");
                if (line.possible().isPresent()) {
                    Range range = line.possible().get();
                    possible.append("M" + x.at(range.low()) + " " + (y + MARK + 4) + "H" + x.at(range.high()));
                }
            } else {
                open.append("M" + (at - MARK) + " " + y + "a5 5 0 1 0 10 0a5 5 0 1 0-10 0");
            }
            canvas.put(new Label(LEFT - 10, y + Canvas.HALF_TEXT, Anchor.END, line.name()));
            canvas.put(new Label(WIDTH, y + Canvas.HALF_TEXT, Anchor.END, line.text()));
            y += LINE;
        }
        canvas.stroke(Ink.AXIS, axis);
        canvas.stroke(Ink.POSSIBLE, possible);
        canvas.stroke(Ink.WHISKER, whiskers);
        canvas.stroke(Ink.HOLLOW, open);
        canvas.stroke(Ink.POINT, filled);
        return canvas.drawing(title);
    }
}
