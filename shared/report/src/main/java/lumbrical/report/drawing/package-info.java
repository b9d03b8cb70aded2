/**
 * Drawings as values: strokes and labels in the units of the drawing, which a template prints as SVG. Knows no questionnaire. Start at
 * {@link lumbrical.report.drawing.CourseDrawing}.
 */
@NullMarked
package lumbrical.report.drawing;

import org.jspecify.annotations.NullMarked;
