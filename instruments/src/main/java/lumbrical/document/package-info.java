/**
 * JSON documents of ours, read strictly: every fault of a file at once, each with its JSON path, unknown keys refused. Start at
 * {@link lumbrical.document.Node}.
 */
@NullMarked
package lumbrical.document;

import org.jspecify.annotations.NullMarked;
