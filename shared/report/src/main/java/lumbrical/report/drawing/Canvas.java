package lumbrical.report.drawing;

import java.util.ArrayList;
import java.util.List;
import java.util.stream.Stream;
import lumbrical.report.drawing.Drawing.Anchor;
import lumbrical.report.drawing.Drawing.Ink;
import lumbrical.report.drawing.Drawing.Label;
import lumbrical.report.drawing.Drawing.Stroke;

/** A drawing under way: strokes, and labels where there is room for them. */
final class Canvas {
    /** Distance of a text's middle from its base line. */
    static final int HALF_TEXT = 5;

    private static final int TICK = 4;

    private final int width;
    private final int height;
    private final List<Stroke> strokes = new ArrayList<>();
    private final List<Label> labels = new ArrayList<>();
    private final LabelPlacer placer;

    Canvas(int width, int height) {
        this.width = width;
        this.height = height;
        this.placer = new LabelPlacer(width, height);
    }

    /** Adds a stroke; none if there is nothing to draw. */
    void stroke(Ink ink, CharSequence path) {
        if (path.length() > 0) {
            strokes.add(new Stroke(ink, path.toString()));
        }
    }

    void keepFree(double left, double top, double right, double bottom) {
        placer.keepFree(left, top, right, bottom);
    }

    /** Puts a label where it stands, whatever else there is. */
    void put(Label label) {
        labels.add(label);
    }

    /** Puts a label at the first of these places that has room; says whether one had. */
    boolean label(Label... places) {
        return label(List.of(places));
    }

    /** Puts a label at the first of these places that has room; says whether one had. */
    boolean label(List<Label> places) {
        return placer.place(places).map(labels::add).isPresent();
    }

    /** A label beside the right edge, as near to its place as the others leave room between {@code top} and {@code bottom}. */
    void beside(int x, int y, int top, int bottom, String text) {
        List<Label> places = new ArrayList<>();
        for (int away = 0; away < height; away++) {
            for (int at : new int[] {y - away, y + away}) {
                if (at >= top && at <= bottom) {
                    places.add(new Label(x, at + HALF_TEXT, Anchor.START, text));
                }
            }
        }
        label(places);
    }

    /** Ticks and their texts left of a vertical axis. */
    void ticksLeft(StringBuilder path, int x, Stream<Tick> ticks) {
        ticks.forEach(t -> {
            path.append('M')
                    .append(x - TICK)
                    .append(' ')
                    .append(t.place())
                    .append('h')
                    .append(TICK);
            label(new Label(x - TICK - 2, t.place() + HALF_TEXT, Anchor.END, t.text()));
        });
    }

    /** Ticks and their texts under a horizontal axis. */
    void ticksUnder(StringBuilder path, int y, Stream<Tick> ticks) {
        ticks.forEach(t -> {
            path.append('M').append(t.place()).append(' ').append(y).append('v').append(TICK);
            label(new Label(t.place(), y + 18, Anchor.MIDDLE, t.text()));
        });
    }

    /**
     * A tick.
     *
     * @param place where it lies on its axis
     * @param text what it says
     */
    record Tick(int place, String text) {}

    Drawing drawing(String title) {
        return new Drawing(width, height, title, strokes, labels);
    }
}
