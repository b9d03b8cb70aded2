/**
 * Reads definitions of instruments, checks them, and lists them. Start at {@link lumbrical.catalogue.Catalogue}.
 *
 * <p>A definition with a fault is refused whole, and every fault is reported at once with its JSON path.
 */
@NullMarked
package lumbrical.catalogue;

import org.jspecify.annotations.NullMarked;
