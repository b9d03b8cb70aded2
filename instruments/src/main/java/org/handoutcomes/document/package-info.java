/**
 * JSON documents of ours, read strictly: every fault of a file at once, each with its JSON path, unknown keys refused. Start at
 * {@link org.handoutcomes.document.Node}.
 */
@NullMarked
package org.handoutcomes.document;

import org.jspecify.annotations.NullMarked;
