package lumbrical.catalogue;

/**
 * An instrument that has no scorer here.
 *
 * @param name its name
 * @param reason why it has none
 * @param needed what would be needed to add it
 * @param source where that was found
 */
public record NotIncluded(String name, String reason, String needed, String source) {}
