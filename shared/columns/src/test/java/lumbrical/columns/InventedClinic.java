package lumbrical.columns;

import java.time.LocalDate;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.function.UnaryOperator;
import java.util.stream.Collectors;
import lumbrical.catalogue.Catalogue;
import lumbrical.followup.Episode;
import lumbrical.followup.FollowUpAnalysis;
import lumbrical.followup.FollowUpResult;
import lumbrical.followup.Schedule;
import lumbrical.followup.Visit;
import lumbrical.instrument.Instrument;
import lumbrical.instrument.InstrumentId;
import lumbrical.instrument.Side;
import lumbrical.number.Numbers;
import lumbrical.output.OutputTable;
import lumbrical.output.Value;
import lumbrical.problem.Place;
import lumbrical.scoring.Responses;
import lumbrical.scoring.ScoringPlan;
import lumbrical.sitting.ScoredForm;
import lumbrical.sitting.Sitting;
import lumbrical.threshold.ThresholdChoice;

/** An invented clinic with the shipped definitions: every right hand was treated on {@link #INDEX} unless said otherwise. */
final class InventedClinic {
    static final LocalDate INDEX = LocalDate.of(2026, 3, 2);
    static final LocalDate AS_OF = LocalDate.of(2026, 6, 1);
    static final Catalogue CATALOGUE = Catalogue.builtIn();
    static final Visit BASELINE = new Visit("baseline", 0, -90, 0, Visit.Role.BASELINE, List.of(), true);
    static final Visit SIX_WEEKS = new Visit("6 weeks", 42, 28, 59, Visit.Role.FOLLOW_UP, List.of(), true);
    static final Schedule SCHEDULE = new Schedule(List.of(BASELINE, SIX_WEEKS));

    private final List<Episode> episodes = new ArrayList<>();
    private final List<ScoredForm> forms = new ArrayList<>();
    private Sitting sitting = sitting("none", INDEX, Optional.empty());

    static Instrument instrument(String id) {
        return CATALOGUE.find(id).orElseThrow();
    }

    /** An episode of the right hand; what follows are its sittings. */
    InventedClinic episode(String patient, String condition) {
        return episode(patient, b -> b.condition(condition));
    }

    InventedClinic episode(String patient, UnaryOperator<Episode.Builder> more) {
        episodes.add(more.apply(Episode.builder(patient, "E" + patient.substring(1), Side.RIGHT)
                        .indexDate(INDEX)
                        .place(Place.of("episodes.csv", episodes.size() + 2)))
                .build());
        return this;
    }

    /** A sitting of the right hand, so many days after {@link #INDEX}; what follows are its forms. */
    InventedClinic on(String patient, int day) {
        return on(patient, day, Side.RIGHT);
    }

    InventedClinic on(String patient, int day, Side side) {
        sitting = sitting(patient, INDEX.plusDays(day), Optional.of(side));
        return this;
    }

    private Sitting sitting(String patient, LocalDate day, Optional<Side> side) {
        return new Sitting(
                patient,
                day,
                Optional.empty(),
                side,
                Optional.empty(),
                Optional.empty(),
                Optional.empty(),
                Optional.empty(),
                Place.of("responses.csv", forms.size() + 2));
    }

    /** A form of the sitting: {@code item=response} separated by blanks. */
    InventedClinic form(String id, String answers) {
        Map<String, Double> byItem = new HashMap<>();
        for (String answer : answers.isEmpty() ? new String[0] : answers.split(" ")) {
            byItem.put(answer.split("=")[0], Double.valueOf(answer.split("=")[1]));
        }
        Instrument instrument = instrument(id);
        Responses responses = Responses.of(instrument, byItem);
        forms.add(new ScoredForm(
                sitting, instrument, responses, ScoringPlan.of(instrument).score(responses, sitting.side())));
        return this;
    }

    /** A quickDASH with these responses to items 1, 2, 3 and so on; those not given are not answered. */
    InventedClinic quickdash(int... responses) {
        StringBuilder answers = new StringBuilder();
        for (int i = 0; i < responses.length; i++) {
            answers.append(i == 0 ? "" : " ").append(i + 1).append('=').append(responses[i]);
        }
        return form("quickdash", answers.toString());
    }

    /**
     * A PRWE of this total, which must be even: half of it is the sum of the five pain items, the other half the sum of the ten
     * function items divided by 2. The points are dealt out evenly, what is left over to the first items.
     */
    InventedClinic prwe(int total) {
        List<String> answers = new ArrayList<>();
        int pain = total / 2;
        int function = total;
        for (int i = 0; i < 5; i++) {
            answers.add((i + 1) + "=" + (pain / 5 + (i < pain % 5 ? 1 : 0)));
        }
        for (int i = 0; i < 10; i++) {
            answers.add((i + 6) + "=" + (function / 10 + (i < function % 10 ? 1 : 0)));
        }
        return form("prwe", String.join(" ", answers));
    }

    List<ScoredForm> forms() {
        return List.copyOf(forms);
    }

    FollowUpResult analyse() {
        return FollowUpAnalysis.analyse(forms, episodes, SCHEDULE, AS_OF, ThresholdChoice.DEFAULTS);
    }

    static UnaryOperator<Episode.Builder> expecting(String... ids) {
        return b -> b.forms(List.of(ids).stream().map(InstrumentId::new).toList());
    }

    static int[] all(int response, int items) {
        int[] responses = new int[items];
        Arrays.fill(responses, response);
        return responses;
    }

    /** The cells of a row as texts, numbers with at most six decimals, separated by {@code |}. */
    static <R> String line(OutputTable<R> table, R row) {
        return table.columns().stream().map(c -> text(c.of().apply(row))).collect(Collectors.joining("|"));
    }

    /** The cells of a row under some of the headings. */
    static <R> String cells(OutputTable<R> table, R row, String... headings) {
        return List.of(headings).stream()
                .map(name -> text(value(table, row, name)))
                .collect(Collectors.joining("|"));
    }

    static <R> Value value(OutputTable<R> table, R row, String heading) {
        return table.columns().stream()
                .filter(c -> c.name().equals(heading))
                .findFirst()
                .orElseThrow()
                .of()
                .apply(row);
    }

    private static String text(Value value) {
        if (value instanceof Value.Text text) {
            return text.text();
        }
        if (value instanceof Value.Word word) {
            return word.text();
        }
        if (value instanceof Value.Number number) {
            return Numbers.format(number.value());
        }
        return value instanceof Value.Day day ? day.day().toString() : "";
    }
}
