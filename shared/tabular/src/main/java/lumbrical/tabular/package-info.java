/**
 * Tables read row by row from CSV and XLSX, whatever they hold. Start at {@link lumbrical.tabular.SimpleTable} for a small table
 * and at {@link lumbrical.tabular.TableFile} for one of any size.
 */
@NullMarked
package lumbrical.tabular;

import org.jspecify.annotations.NullMarked;
