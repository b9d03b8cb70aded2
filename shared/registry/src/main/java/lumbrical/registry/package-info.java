/**
 * Registry files: a folder with the data in an open standard's form, and beside it a manifest, what was rejected and a data
 * dictionary. Start at {@link lumbrical.registry.Submission}.
 */
@NullMarked
package lumbrical.registry;

import org.jspecify.annotations.NullMarked;
