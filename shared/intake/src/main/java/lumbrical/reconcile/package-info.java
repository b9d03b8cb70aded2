/**
 * Double data entry: two tables of the same forms compared cell by cell, and the table on which they agree. Nothing is chosen here; a
 * person decides from the form. Start at {@link lumbrical.reconcile.Comparison}.
 */
@NullMarked
package lumbrical.reconcile;

import org.jspecify.annotations.NullMarked;
