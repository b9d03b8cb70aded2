package lumbrical.reconcile;

import java.util.ArrayList;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import lumbrical.catalogue.Catalogue;
import lumbrical.instrument.Column;
import lumbrical.instrument.Instrument;
import lumbrical.number.Numbers;
import lumbrical.scoring.Reason;
import lumbrical.scoring.RequestedColumns;
import lumbrical.scoring.Response;
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
        return catalogue
                .ownerOf(column)
                .flatMap(i -> i.column(column).map(c -> scores(i, c, sitting, entry)))
                .orElse("");
    }

    private String scores(Instrument instrument, Column column, EnteredSitting sitting, Optional<Entry> entry) {
        Responses.Builder responses = Responses.builder(instrument);
        for (Column each : instrument.columns()) {
            sitting.cell(each.name()).ifPresent(e -> responses.put(each.index(), e.response()));
        }
        responses.put(column.index(), entry.map(Entry::response).orElse(Response.NOT_ANSWERED));
        List<String> words = new ArrayList<>();
        plans
                .computeIfAbsent(instrument.id().value(), id -> ScoringPlan.of(instrument, options))
                .score(responses.build(), sitting.sitting().side(), RequestedColumns.form(instrument))
                .stream()
                .filter(result -> instrument.uses(instrument.requireScale(result.scale()), column.item())
                        && (result.hand().isEmpty()
                                || column.hand().isEmpty()
                                || result.hand().get().includes(column.hand().get())))
                .forEach(result -> words.add(words(result)));
        return String.join("; ", words);
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
