/** The documentation as plain pages. Start at {@link lumbrical.site.SiteMaker}. */
@NullMarked
package lumbrical.site;

import org.jspecify.annotations.NullMarked;
