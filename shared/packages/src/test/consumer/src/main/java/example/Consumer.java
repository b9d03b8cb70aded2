package example;

import java.util.Map;
import java.util.Optional;
import java.util.stream.Collectors;
import java.util.stream.IntStream;
import lumbrical.catalogue.Catalogue;
import lumbrical.instrument.Instrument;
import lumbrical.scoring.Responses;
import lumbrical.scoring.ScoringPlan;

/** Scores one form: eleven answers of 3 give 50, (33 / 11 - 1) x 25. */
public final class Consumer {
    private Consumer() {}

    public static void main(String[] args) {
        Instrument form = Catalogue.builtIn().find("quickdash").orElseThrow();
        Map<String, Double> answers =
                IntStream.rangeClosed(1, 11).boxed().collect(Collectors.toMap(String::valueOf, i -> 3.0));
        ScoringPlan.of(form).score(Responses.of(form, answers), Optional.empty()).stream()
                .filter(result -> result.scale().value().equals("total"))
                .forEach(result -> System.out.println(result.scored().orElseThrow().value()));
    }
}
