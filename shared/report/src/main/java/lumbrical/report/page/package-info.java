/**
 * What a page shows, as values, and the templates that print them: {@code src/main/jte}, compiled into this package, which escape every
 * text. Start at {@link lumbrical.report.page.PageComposer}.
 */
@NullMarked
package lumbrical.report.page;

import org.jspecify.annotations.NullMarked;
