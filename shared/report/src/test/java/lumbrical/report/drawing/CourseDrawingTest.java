package lumbrical.report.drawing;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.util.ArrayList;
import java.util.List;
import java.util.OptionalDouble;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import lumbrical.report.drawing.CourseDrawing.Course;
import lumbrical.report.drawing.CourseDrawing.Point;
import lumbrical.report.drawing.Drawing.Ink;
import lumbrical.report.drawing.Drawing.Label;
import net.jqwik.api.ForAll;
import net.jqwik.api.Property;
import net.jqwik.api.constraints.DoubleRange;
import net.jqwik.api.constraints.IntRange;
import net.jqwik.api.constraints.Size;
import org.junit.jupiter.api.Test;

class CourseDrawingTest {
    private static final OptionalDouble NONE = OptionalDouble.empty();

    private static Point point(int day, double score) {
        return new Point(day, OptionalDouble.of(score), NONE, NONE, String.valueOf(score), true, true);
    }

    private static Course course(boolean higherIsBetter, OptionalDouble mcid, OptionalDouble mdc, Point... points) {
        return new Course("invented", 0, 100, higherIsBetter, points[0].score(), mcid, mdc, List.of(points));
    }

    private static String path(Drawing drawing, Ink ink) {
        return drawing.strokes().stream()
                .filter(s -> s.ink() == ink)
                .map(Drawing.Stroke::path)
                .findFirst()
                .orElse("");
    }

    /** The places of the filled marks, as x and y. */
    private static List<int[]> marks(Drawing drawing) {
        List<int[]> marks = new ArrayList<>();
        Matcher matcher = Pattern.compile("M(\\d+) (\\d+)h0").matcher(path(drawing, Ink.POINT));
        while (matcher.find()) {
            marks.add(new int[] {Integer.parseInt(matcher.group(1)), Integer.parseInt(matcher.group(2))});
        }
        return marks;
    }

    @Test
    void betterIsUpWhicheverWayTheScaleRuns() {
        List<int[]> lower = marks(CourseDrawing.of(course(false, NONE, NONE, point(0, 80), point(100, 20))));
        List<int[]> higher = marks(CourseDrawing.of(course(true, NONE, NONE, point(0, 20), point(100, 80))));
        assertTrue(lower.get(1)[1] < lower.get(0)[1], "a lower score stands higher where lower is better");
        assertTrue(higher.get(1)[1] < higher.get(0)[1], "a higher score stands higher where higher is better");
        assertEquals(lower.get(0)[1], higher.get(0)[1]);
    }

    @Test
    void timeIsToScale() {
        List<int[]> marks =
                marks(CourseDrawing.of(course(false, NONE, NONE, point(0, 80), point(100, 50), point(400, 20))));
        double shortGap = marks.get(1)[0] - marks.get(0)[0];
        double longGap = marks.get(2)[0] - marks.get(1)[0];
        assertEquals(3, longGap / shortGap, 0.05);
    }

    @Test
    void areasLieAroundTheBaselineAsWideAsTheThresholds() {
        Drawing drawing = CourseDrawing.of(
                course(false, OptionalDouble.of(15), OptionalDouble.of(10), point(0, 50), point(100, 20)));
        // a hundred points are 140 units, from 24 to 164
        assertEquals("M40 73H306V115H40z", path(drawing, Ink.IMPORTANCE));
        assertEquals("M40 80H306V108H40z", path(drawing, Ink.ERROR));
        assertEquals("M40 94H306", path(drawing, Ink.LEVEL));
        assertTrue(drawing.labels().stream().map(Label::text).toList().containsAll(List.of("start", "MCID", "MDC")));
    }

    @Test
    void areasEndWhereTheScaleEnds() {
        Drawing drawing = CourseDrawing.of(
                course(false, OptionalDouble.of(15), OptionalDouble.of(30), point(0, 10), point(100, 20)));
        assertEquals("M40 24H306V59H40z", path(drawing, Ink.IMPORTANCE));
        assertEquals("M40 24H306V80H40z", path(drawing, Ink.ERROR));
    }

    @Test
    void whiskersShowWhatUnansweredItemsCouldDo() {
        Point gap =
                new Point(100, OptionalDouble.of(40), OptionalDouble.of(30), OptionalDouble.of(60), "40", true, true);
        Drawing drawing = CourseDrawing.of(course(false, NONE, NONE, point(0, 80), gap));
        // 30 lies at 24 + 0.3 x 140 = 66, 60 at 108
        assertEquals("M282 66h8m-4 0V108m-4 0h8", path(drawing, Ink.WHISKER));
    }

    @Test
    void aFormWithoutAScoreHasACrossAndNoMark() {
        Point none = new Point(100, NONE, OptionalDouble.of(30), OptionalDouble.of(60), "", false, false);
        Drawing drawing = CourseDrawing.of(course(false, NONE, NONE, point(0, 80), none));
        assertEquals(1, marks(drawing).size());
        assertEquals("M282 66h8m-4 0V108m-4 0h8", path(drawing, Ink.POSSIBLE));
        assertEquals("M282 155l8 8m0-8l-8 8", path(drawing, Ink.NO_SCORE));
    }

    @Test
    void aScoreThatDoesNotCountIsOpenAndNotJoined() {
        Point listed = new Point(50, OptionalDouble.of(40), NONE, NONE, "40", false, false);
        Point apart = new Point(100, OptionalDouble.of(30), NONE, NONE, "30", true, false);
        Drawing drawing = CourseDrawing.of(course(false, NONE, NONE, point(0, 80), listed, apart));
        assertEquals(2, marks(drawing).size());
        assertTrue(path(drawing, Ink.HOLLOW).startsWith("M180 80a5 5"), path(drawing, Ink.HOLLOW));
        assertEquals("M84 136M286 66", path(drawing, Ink.COURSE));
    }

    @Test
    void theFigureOfTheStartStandsBesideItWhereTheNextScoreLiesClose() {
        Drawing drawing = CourseDrawing.of(course(
                false,
                OptionalDouble.of(14),
                NONE,
                point(-10, 66),
                point(14, 71),
                point(42, 55),
                point(91, 43),
                point(183, 30),
                point(365, 25),
                point(800, 68)));
        List<String> texts = drawing.labels().stream().map(Label::text).toList();
        assertTrue(
                texts.containsAll(List.of("66.0", "71.0", "55.0", "43.0", "30.0", "25.0", "68.0")), texts.toString());
    }

    @Test
    void nothingCannotBeDrawn() {
        assertThrows(
                IllegalArgumentException.class,
                () -> new Course("invented", 0, 100, true, NONE, NONE, NONE, List.of()));
    }

    @Property
    void labelsNeverLieOnEachOther(
            @ForAll @Size(min = 1, max = 12) List<@IntRange(min = -90, max = 3000) Integer> days,
            @ForAll @Size(min = 12, max = 12) List<@DoubleRange(min = 0, max = 100) Double> scores,
            @ForAll boolean higherIsBetter,
            @ForAll @DoubleRange(min = 1, max = 90) double mcid,
            @ForAll @DoubleRange(min = 1, max = 90) double mdc) {
        List<Integer> ordered = days.stream().sorted().toList();
        Point[] points = new Point[ordered.size()];
        for (int i = 0; i < points.length; i++) {
            double score = Math.round(scores.get(i) * 10) / 10.0;
            points[i] = point(ordered.get(i), score);
        }
        Drawing drawing =
                CourseDrawing.of(course(higherIsBetter, OptionalDouble.of(mcid), OptionalDouble.of(mdc), points));
        List<LabelPlacer.Box> boxes =
                drawing.labels().stream().map(LabelPlacer::box).toList();
        for (int i = 0; i < boxes.size(); i++) {
            for (int j = 0; j < i; j++) {
                assertTrue(
                        !boxes.get(i).overlaps(boxes.get(j)),
                        drawing.labels().get(i) + " lies on " + drawing.labels().get(j));
            }
        }
        assertTrue(drawing.labels().stream().map(Label::text).toList().contains("start"));
        assertEquals(points.length, marks(drawing).size());
    }

    @Test
    void ticksOfAScaleAreRound() {
        assertEquals(List.of(0.0, 20.0, 40.0, 60.0, 80.0, 100.0), new LinearScale(0, 100, 0, 1).ticks(6));
        assertEquals(List.of(1.0, 2.0, 3.0, 4.0, 5.0), new LinearScale(1, 5, 0, 1).ticks(6));
        assertEquals(List.of(-5.0, 0.0, 5.0), new LinearScale(-7, 7, 0, 1).ticks(6));
        assertThrows(IllegalArgumentException.class, () -> new LinearScale(1, 1, 0, 1));
    }

    @Test
    void ticksOfTimeAreWeeksMonthsOrYears() {
        assertEquals(List.of("0", "1 w", "2 w"), texts(TimeTicks.until(14, 5)));
        assertEquals(List.of("0", "3 m", "6 m", "9 m", "12 m"), texts(TimeTicks.until(370, 5)));
        assertEquals(List.of("0", "1 y", "2 y", "3 y"), texts(TimeTicks.until(1100, 5)));
        assertEquals(List.of("0"), texts(TimeTicks.until(-30, 5)));
        assertEquals(365.25, TimeTicks.until(1100, 5).get(1).day());
    }

    private static List<String> texts(List<TimeTicks.Tick> ticks) {
        return ticks.stream().map(TimeTicks.Tick::text).toList();
    }
}
