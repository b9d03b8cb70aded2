/**
 * Registry files: a folder with the data in an open standard's form, and beside it a manifest, what was rejected and a data
 * dictionary. Start at {@link org.handoutcomes.exchange.Submission}.
 */
@NullMarked
package org.handoutcomes.exchange;

import org.jspecify.annotations.NullMarked;
