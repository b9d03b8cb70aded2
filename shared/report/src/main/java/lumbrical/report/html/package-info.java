/**
 * What every HTML file of ours has: a strict policy, a style sheet and a script of its own, names of scales, and where it comes
 * from. Start at {@link lumbrical.report.html.PageParts}.
 */
@NullMarked
package lumbrical.report.html;

import org.jspecify.annotations.NullMarked;
