package lumbrical.catalogue;

import java.util.List;
import java.util.Optional;
import java.util.TreeSet;
import lumbrical.instrument.Composition;
import lumbrical.instrument.Instrument;
import lumbrical.instrument.Provenance;
import lumbrical.instrument.Scale;

/**
 * What a list of instruments says of one.
 *
 * @param id of the instrument
 * @param version of its definition
 * @param title its name
 * @param variantOf the instrument whose other coding it is
 * @param scales ids of the scales that are reported, in their order; none if it is read item by item
 * @param terms the terms of the licence, as a word
 * @param holder who holds the rights
 * @param standings kinds of rules with their standing, such as {@code formula published}, in alphabetical order
 */
public record Summary(
        String id,
        String version,
        String title,
        Optional<String> variantOf,
        List<String> scales,
        String terms,
        String holder,
        List<String> standings) {
    private static final String BETWEEN_FIELDS = "\t";
    private static final String BETWEEN_WORDS = ",";

    public Summary {
        scales = List.copyOf(scales);
        standings = List.copyOf(standings);
    }

    /** The summary of an instrument. */
    public static Summary of(Instrument instrument) {
        Instrument.Facts facts = instrument.facts();
        return new Summary(
                instrument.id().value(),
                facts.version(),
                facts.title(),
                facts.variantOf().map(Object::toString),
                instrument.scales().stream()
                        .filter(Scale::reported)
                        .map(s -> s.id().value())
                        .toList(),
                facts.licence().terms(),
                facts.licence().holder(),
                standings(instrument));
    }

    private static List<String> standings(Instrument instrument) {
        TreeSet<String> standings = new TreeSet<>();
        for (Scale scale : instrument.scales()) {
            if (scale.composition() instanceof Composition.FromItems made) {
                standings.add(standing("formula", made.rule().provenance()));
                standings.add(standing("missing-item rule", made.missing().provenance()));
                made.items()
                        .forEach(i -> standings.add(
                                standing("codes", i.item().responses().provenance())));
            } else if (scale.composition() instanceof Composition.FromParts parts) {
                standings.add(standing("formula", parts.rule().provenance()));
            }
        }
        return List.copyOf(standings);
    }

    private static String standing(String rule, Provenance provenance) {
        return rule + " " + provenance.standing().code();
    }

    /** This summary as a line of the index that the build makes. */
    String line() {
        List<String> fields = List.of(
                id,
                version,
                title,
                variantOf.orElse(""),
                String.join(BETWEEN_WORDS, scales),
                terms,
                holder,
                String.join(BETWEEN_WORDS, standings));
        String line = String.join(BETWEEN_FIELDS, fields);
        if (line.contains("\n") || !parse(line).equals(this)) {
            throw new IllegalArgumentException(
                    id + ": a tab, a line break or a comma in a word cannot be written: " + fields);
        }
        return line;
    }

    /** The summary in a line of the index. */
    static Summary parse(String line) {
        String[] fields = line.split(BETWEEN_FIELDS, -1);
        return new Summary(
                fields[0],
                fields[1],
                fields[2],
                Optional.of(fields[3]).filter(v -> !v.isEmpty()),
                words(fields[4]),
                fields[5],
                fields[6],
                words(fields[7]));
    }

    private static List<String> words(String field) {
        return field.isEmpty() ? List.of() : List.of(field.split(BETWEEN_WORDS));
    }
}
