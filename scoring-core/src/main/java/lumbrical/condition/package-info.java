/**
 * Conditions of hand and wrist, and which of them an episode's text means. Start at {@link
 * lumbrical.condition.ConditionVocabulary}.
 *
 * <p>Nothing here reads a file: the list of conditions is given by whoever builds the vocabulary.
 */
@NullMarked
package lumbrical.condition;

import org.jspecify.annotations.NullMarked;
