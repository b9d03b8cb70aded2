package lumbrical.deidentify;

import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.TreeSet;
import lumbrical.instrument.Side;

/** What is sent of an episode that somebody who knows the person may know too. */
final class PersonKey {
    static final String SIDE = "treated_side";
    static final String LANGUAGE = "language";
    /** What the set of instruments is called beside the columns. */
    static final String INSTRUMENTS = "instruments";

    private PersonKey() {}

    /** Names of the columns that a profile lets through of the person. */
    static List<String> fields(Profile profile) {
        List<String> fields = new ArrayList<>(List.of(SIDE));
        profile.columns().stream()
                .map(Profile.AllowedColumn::name)
                .filter(name -> name.equals(LANGUAGE) || !ColumnPolicy.OF_SITTING.contains(name))
                .forEach(fields::add);
        return fields;
    }

    /** When the forms were filled in, as a profile lets it leave, and the year where it does. */
    static List<String> visitFields(Profile profile) {
        return switch (profile.dates()) {
            case WEEKS_FROM_INDEX -> List.of("week");
            case DAYS_FROM_INDEX -> List.of("index_year", "day");
            case SHIFTED -> List.of("day");
        };
    }

    /** The values of the person's columns; one without a value is left out. */
    static Map<String, String> of(DeidentifiedEpisode episode) {
        Map<String, String> values = new LinkedHashMap<>();
        episode.treatedSide().map(Side::code).ifPresent(side -> values.put(SIDE, side));
        values.putAll(episode.attributes());
        TreeSet<String> languages = new TreeSet<>();
        for (DeidentifiedForm form : episode.forms()) {
            form.attributes().entrySet().stream()
                    .filter(e -> e.getKey().equals(LANGUAGE))
                    .map(Map.Entry::getValue)
                    .forEach(languages::add);
        }
        if (!languages.isEmpty()) {
            values.put(LANGUAGE, String.join(" ", languages));
        }
        return values;
    }

    /** The instruments of the forms, each once: which are used often tells what a person is treated for. */
    static TreeSet<String> instruments(DeidentifiedEpisode episode) {
        TreeSet<String> instruments = new TreeSet<>();
        episode.forms().forEach(form -> instruments.add(form.instrument().id().value()));
        return instruments;
    }

    /** The weeks or days of the forms, each once, and the year of the index date where it is sent. */
    static String visits(DeidentifiedEpisode episode) {
        TreeSet<Integer> times = new TreeSet<>();
        for (DeidentifiedForm form : episode.forms()) {
            form.day().week().ifPresent(times::add);
            form.day().day().ifPresent(times::add);
        }
        return episode.index()
                        .map(i -> i.year().isPresent() ? i.year().getAsInt() + " " : "")
                        .orElse("")
                + times;
    }
}
