package lumbrical.report.drawing;

import java.util.ArrayList;
import java.util.List;
import java.util.Optional;

/** Finds room for labels, so that none lies on another, on a mark, or outside the drawing. */
final class LabelPlacer {
    /** Height of a label, and its width for each letter, in units of the drawing: rather too much than too little. */
    static final int HEIGHT = 15;

    private static final double LETTER = 8.4;

    private final Box bounds;
    private final List<Box> taken = new ArrayList<>();

    /** A place in the drawing. */
    record Box(double left, double top, double right, double bottom) {
        boolean overlaps(Box other) {
            return left < other.right && other.left < right && top < other.bottom && other.top < bottom;
        }

        boolean inside(Box other) {
            return left >= other.left && right <= other.right && top >= other.top && bottom <= other.bottom;
        }
    }

    LabelPlacer(double width, double height) {
        this.bounds = new Box(0, 0, width, height);
    }

    /** Keeps a place free. */
    void keepFree(double left, double top, double right, double bottom) {
        taken.add(new Box(left, top, right, bottom));
    }

    /** Where a label of that text would be. */
    static Box box(Drawing.Label label) {
        double width = label.text().length() * LETTER;
        double left =
                switch (label.anchor()) {
                    case START -> label.x();
                    case MIDDLE -> label.x() - width / 2;
                    case END -> label.x() - width;
                };
        return new Box(left, label.y() - HEIGHT + 3.0, left + width, label.y() + 3.0);
    }

    /** Takes the first of these that has room; none if all lie on something. */
    Optional<Drawing.Label> place(List<Drawing.Label> candidates) {
        for (Drawing.Label label : candidates) {
            Box box = box(label);
            if (box.inside(bounds) && taken.stream().noneMatch(box::overlaps)) {
                taken.add(box);
                return Optional.of(label);
            }
        }
        return Optional.empty();
    }
}
