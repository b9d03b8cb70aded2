/**
 * What may leave the house: episodes and forms with pseudonyms instead of ids and days instead of dates. Whoever writes a registry
 * file sees these values and nothing else. Start at {@link lumbrical.deidentify.DeIdentifier}.
 *
 * <p>Sources: 45 CFR 164.514(b)(2) (Safe Harbor: eighteen classes of identifiers, all date elements but the year, ages over 89 in one
 * group) and 164.514(c) (a code must not be derived from the person's data); GDPR article 4(5) and 5(1).
 */
@NullMarked
package lumbrical.deidentify;

import org.jspecify.annotations.NullMarked;
