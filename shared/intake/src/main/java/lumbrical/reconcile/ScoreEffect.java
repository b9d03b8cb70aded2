package lumbrical.reconcile;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import lumbrical.catalogue.Catalogue;
import lumbrical.instrument.Column;
import lumbrical.instrument.Composition;
import lumbrical.instrument.Instrument;
import lumbrical.instrument.Scale;
import lumbrical.instrument.ScaleId;
import lumbrical.output.Numbers;
import lumbrical.scoring.Reason;
import lumbrical.scoring.RequestedColumns;
import lumbrical.scoring.Responses;
import lumbrical.scoring.ScoreResult;
import lumbrical.scoring.ScoringOptions;
import lumbrical.scoring.ScoringPlan;

/** What an entry does to the scores of its form. */
final class ScoreEffect {
    private final Catalogue catalogue;
    private final ScoringOptions options;
    private final Map<String, ScoringPlan> plans = new HashMap<>();

    ScoreEffect(Catalogue catalogue, ScoringOptions options) {
        this.catalogue = catalogue;
        this.options = options;
    }

    /** Scores that the column bears on, with {@code entry} in it and everything else as {@code sitting} has it; blank if none. */
    String of(EnteredSitting sitting, String column, Optional<Entry> entry) {
        Optional<Instrument> owner =
                catalogue.ownerOf(column).filter(i -> i.column(column).isPresent());
        return owner.map(i -> scores(i, i.column(column).orElseThrow(), sitting, entry))
                .orElse("");
    }

    private String scores(Instrument instrument, Column column, EnteredSitting sitting, Optional<Entry> entry) {
        double[] values = new double[instrument.columns().size()];
        Arrays.fill(values, Responses.NOT_ANSWERED);
        for (Column each : instrument.columns()) {
            sitting.cell(each.name()).ifPresent(e -> values[each.index()] = e.response());
        }
        values[column.index()] = entry.map(Entry::response).orElse(Responses.NOT_ANSWERED);
        List<String> words = new ArrayList<>();
        plans
                .computeIfAbsent(instrument.id().value(), id -> ScoringPlan.of(instrument, options))
                .score(Responses.of(instrument, values), sitting.sitting().side(), RequestedColumns.form(instrument))
                .stream()
                .filter(result -> bearsOn(instrument, result.scale(), column)
                        && (result.hand().isEmpty()
                                || column.hand().isEmpty()
                                || result.hand().get().includes(column.hand().get())))
                .forEach(result -> words.add(words(result)));
        return String.join("; ", words);
    }

    private static boolean bearsOn(Instrument instrument, ScaleId scale, Column column) {
        Composition made = instrument.scale(scale).map(Scale::composition).orElseThrow();
        return made instanceof Composition.FromItems items
                ? items.items().stream().anyMatch(i -> i.item().equals(column.item()))
                : ((Composition.FromParts) made).parts().stream().anyMatch(p -> bearsOn(instrument, p.scale(), column));
    }

    private static String words(ScoreResult result) {
        return result.scale()
                + result.hand().map(h -> " " + h.code()).orElse("")
                + " "
                + result.scored()
                        .map(s -> Numbers.format(s.value()))
                        .orElseGet(() -> result.reason().map(Reason::code).orElse("no score"));
    }
}
