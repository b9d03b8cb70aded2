package lumbrical.output;

/**
 * What a field of a file holds.
 *
 * @param file the file or dataset
 * @param field its name there
 * @param label in words
 * @param type kind of values
 * @param values allowed values or range, where they are limited
 * @param from where it comes from: our column, or how it is derived
 */
public record DictionaryEntry(String file, String field, String label, String type, String values, String from) {}
