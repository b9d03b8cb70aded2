package lumbrical.report.drawing;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.util.ArrayList;
import java.util.Collections;
import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.stream.Stream;
import lumbrical.instrument.Range;
import lumbrical.report.drawing.Drawing.Ink;
import net.jqwik.api.ForAll;
import net.jqwik.api.Property;
import net.jqwik.api.constraints.DoubleRange;
import net.jqwik.api.constraints.Size;
import org.junit.jupiter.api.Test;

/** Drawings of groups: every expected place is worked out by hand from the axis. */
class GroupDrawingsTest {
    private static final OptionalDouble NONE = OptionalDouble.empty();

    private static String path(Drawing drawing, Ink ink) {
        return drawing.strokes().stream()
                .filter(s -> s.ink() == ink)
                .map(Drawing.Stroke::path)
                .findFirst()
                .orElse("");
    }

    private static List<String> texts(Drawing drawing) {
        return drawing.labels().stream().map(Drawing.Label::text).toList();
    }

    @Test
    void theDistributionFallsJustAfterEachImprovement() {
        // An axis from 0 to 100 lies from 52 to 366; 100 % at 40, 50 % at 99, 0 % at 158.
        ImprovementAxis axis = new ImprovementAxis(0, 100, OptionalDouble.of(50), List.of(25.0), OptionalDouble.of(10));
        Drawing drawing = DistributionDrawing.of(
                "invented", axis, List.of(new DistributionDrawing.Step(20, 100), new DistributionDrawing.Step(70, 50)));
        assertEquals("M52 40H115V99H272V158H366", path(drawing, Ink.COURSE));
        assertEquals("M209 40V158", path(drawing, Ink.THRESHOLD));
        assertEquals("M131 40V158", path(drawing, Ink.OTHER_THRESHOLD));
        assertEquals("M83 40V158", path(drawing, Ink.LEVEL));
        assertTrue(texts(drawing).containsAll(List.of("MCID", "MDC", "100 %", "50")));
        assertThrows(IllegalArgumentException.class, () -> DistributionDrawing.of("invented", axis, List.of()));
    }

    @Test
    void eachEpisodeHasABarOfItsHeightTheGreatestFirst() {
        // An axis from -50 to 50 lies from 182 up to 28: 0 at 105, 30 at 59, -20 at 136.
        ImprovementAxis axis = new ImprovementAxis(-50, 50, OptionalDouble.of(20), List.of(), NONE);
        Drawing drawing = OrderedImprovements.of("invented", axis, List.of(30.0, 0.0, -20.0));
        assertEquals("M49 105V59h40V105zM229 105V136h40V105z", path(drawing, Ink.BAR));
        assertEquals(
                List.of("M48 74H318", "M48 136H318"),
                drawing.strokes().stream()
                        .filter(s -> s.ink() == Ink.THRESHOLD)
                        .map(Drawing.Stroke::path)
                        .toList(),
                "the MCID, and as much the other way");
        assertTrue(texts(drawing).containsAll(List.of("MCID", "worse", "same", "3 episodes, in order")));
        assertFalse(
                texts(OrderedImprovements.of("invented", axis, List.of(30.0, 0.0)))
                        .contains("worse"),
                "nobody is worse");
        assertThrows(IllegalArgumentException.class, () -> OrderedImprovements.of("invented", axis, List.of()));
    }

    @Test
    void manyEpisodesAreDrawnAsOneOutline() {
        ImprovementAxis axis = new ImprovementAxis(-50, 50, NONE, List.of(), NONE);
        List<Double> many = new ArrayList<>(Collections.nCopies(10_000, 30.0));
        many.addAll(Collections.nCopies(10_000, -20.0));
        assertEquals(
                "M48 105H48V59H183V136H318V105z",
                path(OrderedImprovements.of("invented", axis, many), Ink.BAR),
                "half of the width up, half down");
    }

    @Test
    void aShareLiesAtItsPercentageWithItsInterval() {
        // 0 % lies at 96, 100 % at 268.
        Drawing drawing = SharesDrawing.of(
                "invented",
                List.of(
                        new SharesDrawing.Line(
                                "15, used", true, 50, new Range(25, 75), Optional.of(new Range(10, 90)), "2 of 4"),
                        new SharesDrawing.Line("20", false, 0, new Range(0, 40), Optional.empty(), "0 of 4")));
        assertEquals("M182 35h0", path(drawing, Ink.POINT));
        assertEquals("M113 44H251", path(drawing, Ink.POSSIBLE));
        assertEquals("M139 31v8m0-4H225m0-4v8M96 53v8m0-4H165m0-4v8", path(drawing, Ink.WHISKER));
        assertTrue(path(drawing, Ink.HOLLOW).startsWith("M91 57"));
        assertTrue(texts(drawing).containsAll(List.of("15, used", "20", "2 of 4", "0 of 4")));
        assertThrows(IllegalArgumentException.class, () -> SharesDrawing.of("invented", List.of()));
    }

    private static GroupCourseDrawing.Point point(int day, double value, double half, boolean few, boolean joined) {
        return new GroupCourseDrawing.Point(
                day,
                value,
                OptionalDouble.of(value - half),
                OptionalDouble.of(value + half),
                String.valueOf(value),
                few ? 2 : 9,
                few,
                joined);
    }

    @Test
    void aCourseStandsOnTimeToScaleWithOpenMarksForAFew() {
        // Day 0 lies at 98, day 100 at 440; of an axis 0 to 100 where lower is better, 0 lies at 42 and 100 at 192.
        Drawing drawing = GroupCourseDrawing.of(new GroupCourseDrawing.Course(
                "invented",
                0,
                100,
                false,
                List.of(new GroupCourseDrawing.Level(0, "start"), new GroupCourseDrawing.Level(20, "MCID")),
                List.of(
                        point(0, 60, 10, false, false),
                        point(50, 40, 10, false, true),
                        point(100, 20, 30, true, false))));
        assertEquals("M98 132L269 102M440 72", path(drawing, Ink.COURSE), "the last visit has no neighbour");
        assertEquals("M98 132h0M269 102h0", path(drawing, Ink.POINT));
        assertTrue(path(drawing, Ink.HOLLOW).startsWith("M435 72"));
        assertEquals(
                "M98 117V147M94 117h8M94 147h8M269 87V117M265 87h8M265 117h8M440 42V117M436 117h8",
                path(drawing, Ink.WHISKER),
                "what goes on beyond the drawing has no end");
        assertEquals("M48 72H462", path(drawing, Ink.THRESHOLD));
        assertTrue(texts(drawing).containsAll(List.of("60.0", "40.0", "20.0", "9", "2", "MCID", "start")));
        assertThrows(
                IllegalArgumentException.class,
                () -> new GroupCourseDrawing.Course("invented", 0, 1, true, List.of(), List.of()));
    }

    @Property(tries = 300)
    void labelsLieWithinAndApart(@ForAll @Size(min = 1, max = 8) List<@DoubleRange(min = 0, max = 100) Double> values) {
        List<GroupCourseDrawing.Point> points = new ArrayList<>();
        int[] days = {0, 14, 42, 91, 183, 365, 730, 1826};
        for (int i = 0; i < values.size(); i++) {
            points.add(point(days[i], values.get(i), 5, i % 3 == 0, i > 0));
        }
        Drawing drawing =
                GroupCourseDrawing.of(new GroupCourseDrawing.Course("invented", 0, 100, true, List.of(), points));
        LabelPlacer.Box bounds = new LabelPlacer.Box(0, 0, drawing.width(), drawing.height());
        List<LabelPlacer.Box> boxes =
                drawing.labels().stream().map(LabelPlacer::box).toList();
        for (int i = 0; i < boxes.size(); i++) {
            LabelPlacer.Box box = boxes.get(i);
            assertTrue(box.inside(bounds), drawing.labels().get(i).toString());
            assertTrue(
                    boxes.subList(0, i).stream().noneMatch(box::overlaps),
                    drawing.labels().get(i).toString());
        }
    }

    @Test
    void theAxisHoldsNoChangeAndEveryThreshold() {
        ImprovementAxis axis =
                ImprovementAxis.of(List.of(5.0, 8.0), OptionalDouble.of(15), List.of(30.0), OptionalDouble.of(12));
        assertEquals(0, axis.low());
        assertTrue(axis.high() > 30);
        assertTrue(ImprovementAxis.of(List.of(-40.0), NONE, List.of(), NONE).low() < -40);
        assertTrue(
                Stream.of(ImprovementAxis.of(List.of(), NONE, List.of(), NONE)).allMatch(a -> a.low() < a.high()));
    }
}
